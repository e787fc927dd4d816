import { useEffect, useState } from 'react';
import { useStore } from 'zustand';
import { Problem } from '../../card/TypedField.tsx';
import { REACH_TEXTS } from '../../look/texts/reach.ts';
import { useDocument, useSentence, useView } from '../../state/index.ts';
import { RunLine } from '../sizing/RunLine.tsx';
import { shownOf } from '../sizing/step-run.ts';
import { ReachMap } from './ReachMap.tsx';
import { followReach, reachRun } from './reach-run.ts';
import type { ReachView } from './reach-service.ts';
import { SetPositions } from './SetPositions.tsx';
import './reach.css';

const T = REACH_TEXTS;

/** How far a back may differ from the measured one before the tree on the bench shows a finding. */
export default function ReachStudy() {
  const units = useView((view) => view.units);
  const pattern = useDocument((documents) => documents.pattern);
  const back = useDocument((documents) => documents.back);
  const setup = useDocument((documents) => documents.setup);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another tree, horse or setup is another question
  useEffect(() => followReach(), [pattern, back, setup]);
  useEffect(() => {
    reachRun.goOn();
    return () => reachRun.stop();
  }, []);
  const sentence = useSentence();
  const run = useStore(reachRun.store);
  const { parts, isOlder } = shownOf(run);
  const view = parts[0] ?? null;
  return (
    <div className="reach">
      <p>
        <strong>{pattern.name}</strong> {T.around} <strong>{back.name}</strong>
      </p>
      {run.refusal !== null && <Problem problem={run.refusal} />}
      <RunLine run={reachRun} unit={T.unit} />
      {view !== null && (
        <div className={isOlder ? 'reach-result stale' : 'reach-result'}>
          <p>{sentence(view.sentences[0] ?? '')}</p>
          <ReachMap view={view} units={units} />
          <ul className="reach-sentences">
            {view.sentences.slice(1).map((said) => (
              <li key={said}>{sentence(said)}</li>
            ))}
          </ul>
          <SetPositions reach={view.reach} units={units} />
          <SaveLink view={view} />
        </div>
      )}
    </div>
  );
}

function SaveLink({ view: { svg, reach } }: { view: ReachView }) {
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [svg]);
  if (address === null) return null;
  const name = `${reach.tree} around ${reach.back}`.toLowerCase().replace(/[^a-z0-9]+/g, '-');
  return (
    <p>
      <a href={address} download={`${name}.reach.svg`}>
        {T.save}
      </a>
    </p>
  );
}
