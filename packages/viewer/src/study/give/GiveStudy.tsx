import { CAUTIONS, type GiveStudy as Study } from '@barwright/geometry';
import { useEffect } from 'react';
import { useStore } from 'zustand';
import { Problem } from '../../card/TypedField.tsx';
import { TEXTS } from '../../look/texts.ts';
import { setSetup, useDocument, useSentence } from '../../state/index.ts';
import { RunLine } from '../sizing/RunLine.tsx';
import { shownOf } from '../sizing/step-run.ts';
import { CoverTable } from './CoverTable.tsx';
import { followGive, giveRun } from './give-run.ts';
import { PartsTable } from './PartsTable.tsx';
import { RideGiveTable } from './RideGiveTable.tsx';
import { ShapeTable } from './ShapeTable.tsx';
import { SideBySide } from './SideBySide.tsx';
import { WarmUpCurves } from './WarmUpCurves.tsx';
import './give.css';

const T = TEXTS.give;

/** What bending bars, their parts, warmth and time do to the pair on the bench. */
export default function GiveStudy() {
  const pattern = useDocument((documents) => documents.pattern);
  const back = useDocument((documents) => documents.back);
  const setup = useDocument((documents) => documents.setup);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another tree, horse or setup is another question
  useEffect(() => followGive(), [pattern, back, setup]);
  useEffect(() => {
    giveRun.goOn();
    return () => giveRun.stop();
  }, []);
  const run = useStore(giveRun.store);
  const { begun, parts, isOlder } = shownOf(run);
  const study = parts.at(-1) ?? null;
  return (
    <div className="give">
      <BenchBars bars={setup.flex.bars} />
      {run.refusal !== null && <Problem problem={run.refusal} />}
      <RunLine run={giveRun} unit={T.rows} />
      {study !== null && begun !== null && (
        <div className={isOlder ? 'give-result stale' : 'give-result'} aria-busy={isOlder || run.state === 'working'}>
          <Sentences study={study} />
          <SideBySide study={study} />
          <PartsTable study={study} of={begun.parts} />
          <WarmUpCurves study={study} />
          <ShapeTable study={study} />
          <CoverTable study={study} />
          <RideGiveTable study={study} />
          <Assumed study={study} />
        </div>
      )}
    </div>
  );
}

/** The study compares both; the bench shows one of them. */
function BenchBars({ bars }: { bars: 'rigid' | 'flexible' }) {
  const other = bars === 'rigid' ? 'flexible' : 'rigid';
  return (
    <p className="small give-bench">
      {T.benchIs(bars)}{' '}
      <button type="button" onClick={() => setSetup('flex.bars', other)}>
        {T.switchTo(other)}
      </button>
    </p>
  );
}

function Sentences({ study: { reading } }: { study: Study }) {
  const sentence = useSentence();
  if (reading.length === 0) return <p className="soft">{T.waitingForBoth}</p>;
  return (
    <ul className="give-sentences">
      {reading.map((said) => (
        <li key={said}>{sentence(said)}</li>
      ))}
    </ul>
  );
}

function Assumed({ study: { assumptions } }: { study: Study }) {
  const caution = CAUTIONS.find(({ id }) => id === 'flexible-tips');
  return (
    <section aria-label={T.assumed}>
      <h3>{T.assumed}</h3>
      {caution !== undefined && <p className="small">{caution.full}</p>}
      <ul className="small soft give-assumed">
        {assumptions.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}
