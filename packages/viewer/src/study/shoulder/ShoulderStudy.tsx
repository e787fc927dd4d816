import type { StrideResult } from '@barwright/geometry';
import { useEffect } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { Figure } from '../../look/Figure.tsx';
import { figureText, forceFigure, gapFigure, lengthFigure, pressureFigure } from '../../look/format.ts';
import { COMMON_TEXTS } from '../../look/texts/common.ts';
import { SHOULDER_TEXTS } from '../../look/texts/shoulder.ts';
import { STUDY_RUN_TEXTS } from '../../look/texts/study-run.ts';
import { useView } from '../../state/index.ts';
import { BesideLines } from './BesideLines.tsx';
import { useStrideInPicture } from './in-picture.ts';
import { Player } from './Player.tsx';
import { StrideCurves, worstSide } from './StrideCurves.tsx';
import {
  cancelStride,
  type DoneStride,
  followBench,
  goTo,
  play,
  runAgain,
  type StrideState,
  useStride,
} from './stride-store.ts';
import { WhatClears } from './WhatClears.tsx';
import './shoulder.css';

const T = SHOULDER_TEXTS;

/** Does the blade pass under the tip over a stride? */
export default function ShoulderStudy() {
  useEffect(followBench, []);
  useStrideInPicture();
  const shown = useStride((stride) => stride.shown);
  const stale = useStride((stride) => stride.stale);
  const error = useStride((stride) => stride.error);
  return (
    <div className="shoulder">
      <Player />
      <Running />
      {error !== null && <Problem problem={error} />}
      {shown !== null && (
        <div className={stale ? 'shoulder-results stale' : 'shoulder-results'} aria-busy={stale}>
          <Worst done={shown} />
          <StrideCurves done={shown} />
          <BesideLines />
          <Assumed done={shown} />
        </div>
      )}
      {shown !== null && <WhatClears />}
    </div>
  );
}

function Running() {
  const running = useStride((stride) => stride.running);
  const stopped = useStride((stride) => stride.stopped);
  if (running !== null)
    return (
      <p className="study-running small" role="status">
        {runningWords(running)}
        <progress value={running.done} max={running.of} aria-label={T.running.howFar} />
        <button type="button" onClick={cancelStride}>
          {T.running.cancel}
        </button>
      </p>
    );
  if (!stopped) return null;
  return (
    <p className="study-running small" role="status">
      {STUDY_RUN_TEXTS.stopped}
      <button type="button" onClick={runAgain}>
        {T.running.again}
      </button>
    </p>
  );
}

function runningWords({ isCoarse, done, of }: NonNullable<StrideState['running']>): string {
  if (!isCoarse) return T.running.full(done, of);
  return done === 0 ? T.running.laying : T.running.coarse(done, of);
}

/** The figures that matter most, in one line each. */
function Worst({ done: { begun, frames, result, isCoarse } }: { done: DoneStride }) {
  const units = useView((view) => view.units);
  const which = worstSide(result);
  const tip = result.tips[which];
  const index = frames.findIndex(({ phase }) => phase.phase === result.worstPhase);
  const gap = (mm: number | null): string => figureText(gapFigure(mm, units));
  const still = begun.standing.tips[which];
  return (
    <div className="shoulder-said">
      <p>
        <button
          type="button"
          className="plain"
          onClick={() => {
            play(false);
            goTo(index);
          }}
        >
          {T.worst.least} <strong className="worst-gap">{gap(tip.leastGapMm)}</strong>{' '}
          {T.worst.at(COMMON_TEXTS[tip.side], index + 1, frames.length)}
        </button>
        {T.worst.standing(gap(leastOf([still.innerGapMm, still.bearingGapMm, still.outerGapMm])))}
        {isCoarse && <span className="soft"> {T.worst.coarse}</span>}
      </p>
      <p>
        {T.worst.mostLeft} <Figure of={pressureFigure(result.tips[0].highestPressureKPa, units)} />
        {T.worst.mostRight} <Figure of={pressureFigure(result.tips[1].highestPressureKPa, units)} />.{' '}
        <LoadCheck result={result} />
      </p>
      <p className="small soft">{T.worst.note}</p>
    </div>
  );
}

const leastOf = (gaps: readonly (number | null)[]): number | null => {
  const known = gaps.filter((gap) => gap !== null);
  return known.length === 0 ? null : Math.min(...known);
};

/** Carried against applied at the phase where they are furthest apart. */
function LoadCheck({ result }: { result: StrideResult }) {
  const units = useView((view) => view.units);
  const off = ({ supportedN, appliedN }: StrideResult['phases'][number]): number => Math.abs(supportedN - appliedN);
  const furthest = result.phases.reduce((a, b) => (off(b) > off(a) ? b : a));
  const unsettled = result.phases.filter(({ status }) => status !== 'settled').length;
  return (
    <span>
      {T.load.carried} <Figure of={forceFigure(furthest.supportedN, units)} />
      {T.load.applied} <Figure of={forceFigure(furthest.appliedN, units)} />{' '}
      {T.load.furthest(((100 * off(furthest)) / furthest.appliedN).toFixed(4))}
      {unsettled > 0 && T.load.unsettled(unsettled)}.
    </span>
  );
}

function Assumed({ done: { begun } }: { done: DoneStride }) {
  const units = useView((view) => view.units);
  const { blades, stride } = begun;
  const far = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  const said = (what: 'height' | 'swing'): string =>
    blades.assumed.includes(what) ? T.assumed.average : T.assumed.stated;
  return (
    <p className="small soft assumed">
      {T.assumed.raised(far(blades.heightLeftMm), far(blades.heightRightMm), said('height'))}{' '}
      {T.assumed.swings(far(stride.swingLeftMm), far(stride.swingRightMm), said('swing'))} {T.assumed.model}
    </p>
  );
}
