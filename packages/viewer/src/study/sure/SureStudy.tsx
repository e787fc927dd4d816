import { type HowSure, repeatWords } from '@barwright/geometry';
import { useEffect, useState } from 'react';
import { useStore } from 'zustand';
import { Problem } from '../../card/TypedField.tsx';
import { Figure } from '../../look/Figure.tsx';
import { gapFigure, lengthFigure, type Units } from '../../look/format.ts';
import { useDocument, useView } from '../../state/index.ts';
import { RunLine } from '../sizing/RunLine.tsx';
import { shownOf } from '../sizing/step-run.ts';
import { BandRow } from './BandRow.tsx';
import { shownBands } from './band-figures.ts';
import { capital, SureFindings } from './SureFindings.tsx';
import { followSure, sureRun } from './sure-run.ts';
import { SURE_WISH, type SureWish } from './sure-wish.ts';
import './sure.css';

const DRAWS = [50, 200, 500] as const;

/** What these measurements settle, and what to measure again. */
export default function SureStudy() {
  const units = useView((view) => view.units);
  const pattern = useDocument((documents) => documents.pattern);
  const back = useDocument((documents) => documents.back);
  const setup = useDocument((documents) => documents.setup);
  const [wish, setWish] = useState<SureWish>(SURE_WISH);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another tree, horse or setup is another question
  useEffect(() => followSure(wish), [wish, pattern, back, setup]);
  useEffect(() => {
    sureRun.goOn();
    return () => sureRun.stop();
  }, []);
  const run = useStore(sureRun.store);
  const { parts, isOlder } = shownOf(run);
  const result = parts[0] ?? null;
  return (
    <div className="sure">
      <p className="sure-head">
        <strong>{pattern.name}</strong> on <strong>{back.name}</strong>
        <label className="small">
          Horses drawn{' '}
          <select
            value={wish.draws}
            onChange={(event) => setWish({ ...wish, draws: Number(event.currentTarget.value) })}
          >
            {DRAWS.map((draws) => (
              <option key={draws}>{draws}</option>
            ))}
          </select>
        </label>
        <button type="button" onClick={() => setWish({ ...wish, seed: wish.seed + 1 })}>
          Draw others
        </button>
      </p>
      {run.refusal !== null && <Problem problem={run.refusal} />}
      <RunLine run={sureRun} unit="horses drawn" />
      {result !== null && (
        <div className={isOlder ? 'sure-result stale' : 'sure-result'}>
          <Result result={result} units={units} />
        </div>
      )}
    </div>
  );
}

function Result({ result, units }: { result: HowSure; units: Units }) {
  const { draws, confidence, seed, uncertaintyMm, uncertaintyDeg, setPositionBandMm, lost } = result;
  const bands = shownBands(result, units);
  return (
    <>
      <Repeat result={result} />
      <div className="sure-parts">
        <section aria-label="Findings">
          <h3>What it shows</h3>
          <SureFindings result={result} />
        </section>
        <section
          className="sure-bands"
          aria-label="Figures and their bands"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow page it scrolls, and has to by keys too
          tabIndex={0}
        >
          <h3>Figures</h3>
          {bands.length === 0 ? (
            <p className="soft">The tree does not settle on this back, or too few of the drawn horses did: no bands.</p>
          ) : (
            <table>
              <thead>
                <tr>
                  <th scope="col">Figure</th>
                  <th scope="col">As measured</th>
                  <th scope="col">Low</th>
                  <th scope="col">
                    <span className="visually-hidden">Band</span>
                  </th>
                  <th scope="col">High</th>
                  <th scope="col">Mostly from</th>
                </tr>
              </thead>
              <tbody>
                {bands.map((shown) => (
                  <BandRow key={shown.figure} shown={shown} />
                ))}
              </tbody>
            </table>
          )}
        </section>
      </div>
      <p className="small soft sure-foot">
        {draws} horses drawn, seed {seed}; bands hold the middle {Math.round(100 * confidence)} of 100. Measured to ±
        <Figure of={gapFigure(uncertaintyMm, units)} /> and ±{uncertaintyDeg}°, read as 95 of 100 repeats; set within ±
        <Figure of={lengthFigure(setPositionBandMm, units, { decimals: 0 })} /> of the set position.
        {lost > 0 && ` ${lost} of them did not settle and are left out.`} Worked out on coarse cells: the value beside
        each band is of those, and may differ a little from the reading’s. Errors of measuring only: tissue, pad and
        load are assumed, and a well-matched tree’s peaks come out too high rather than too low.
      </p>
    </>
  );
}

function Repeat({ result: { repeat, findings } }: { result: HowSure }) {
  const open = findings.filter(({ isOpen }) => isOpen).length;
  if (repeat === null)
    return (
      <p className="sure-repeat" role="status">
        {open === 0
          ? 'These measurements leave no finding open: measuring again would not change what is shown.'
          : 'No single measurement stands out as the one to repeat.'}
      </p>
    );
  return (
    <p className="sure-repeat" role="status">
      <strong>Repeat first:</strong> {capital(repeatWords(repeat))} narrows the{' '}
      {open === 1 ? 'open finding' : `${open} open findings`} most.
    </p>
  );
}
