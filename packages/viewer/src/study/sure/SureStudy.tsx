import { type HowSure, repeatWords } from '@barwright/geometry';
import { useEffect, useState } from 'react';
import { useStore } from 'zustand';
import { Problem } from '../../card/TypedField.tsx';
import { Figure } from '../../look/Figure.tsx';
import { gapFigure, lengthFigure, type Units } from '../../look/format.ts';
import { SURE_TEXTS } from '../../look/texts/sure.ts';
import { useDocument, useView } from '../../state/index.ts';
import { RunLine } from '../sizing/RunLine.tsx';
import { shownOf } from '../sizing/step-run.ts';
import { BandRow } from './BandRow.tsx';
import { shownBands } from './band-figures.ts';
import { capital, SureFindings } from './SureFindings.tsx';
import { followSure, sureRun } from './sure-run.ts';
import { SURE_WISH, type SureWish } from './sure-wish.ts';
import './sure.css';

const T = SURE_TEXTS;

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
        <strong>{pattern.name}</strong> {T.head.on} <strong>{back.name}</strong>
        <label className="small">
          {T.head.draws}{' '}
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
          {T.head.others}
        </button>
      </p>
      {run.refusal !== null && <Problem problem={run.refusal} />}
      <RunLine run={sureRun} unit={T.head.unit} />
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
        <section aria-label={T.findings.label}>
          <h3>{T.findings.title}</h3>
          <SureFindings result={result} />
        </section>
        <section
          className="sure-bands"
          aria-label={T.bands.label}
          // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow page it scrolls, and has to by keys too
          tabIndex={0}
        >
          <h3>{T.bands.title}</h3>
          {bands.length === 0 ? (
            <p className="soft">{T.bands.none}</p>
          ) : (
            <table>
              <thead>
                <tr>
                  <th scope="col">{T.bands.figure}</th>
                  <th scope="col">{T.bands.asMeasured}</th>
                  <th scope="col">{T.bands.low}</th>
                  <th scope="col">
                    <span className="visually-hidden">{T.bands.band}</span>
                  </th>
                  <th scope="col">{T.bands.high}</th>
                  <th scope="col">{T.bands.from}</th>
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
        {T.foot.drawn(draws, seed, Math.round(100 * confidence))}
        <Figure of={gapFigure(uncertaintyMm, units)} /> {T.foot.angle(uncertaintyDeg)}
        <Figure of={lengthFigure(setPositionBandMm, units, { decimals: 0 })} /> {T.foot.position}
        {lost > 0 && ` ${T.foot.lost(lost)}`} {T.foot.limits}
      </p>
    </>
  );
}

function Repeat({ result: { repeat, findings } }: { result: HowSure }) {
  const open = findings.filter(({ isOpen }) => isOpen).length;
  if (repeat === null)
    return (
      <p className="sure-repeat" role="status">
        {open === 0 ? T.repeat.noneOpen : T.repeat.noSingle}
      </p>
    );
  return (
    <p className="sure-repeat" role="status">
      <strong>{T.repeat.first}</strong> {T.repeat.narrows(capital(repeatWords(repeat)), open)}
    </p>
  );
}
