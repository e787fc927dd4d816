import type { StrideResult } from '@barwright/geometry';
import { useEffect } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { Figure } from '../../look/Figure.tsx';
import { figureText, forceFigure, gapFigure, lengthFigure, pressureFigure } from '../../look/format.ts';
import { useView } from '../../state/index.ts';
import { BesideLines } from './BesideLines.tsx';
import { useStrideInPicture } from './in-picture.ts';
import { Player } from './Player.tsx';
import { StrideCurves, worstSide } from './StrideCurves.tsx';
import { cancelStride, type DoneStride, followBench, goTo, play, runAgain, useStride } from './stride-store.ts';
import { WhatClears } from './WhatClears.tsx';
import './shoulder.css';

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
        {running.isCoarse && running.done === 0
          ? 'Laying tree and back out…'
          : `${running.isCoarse ? 'First look' : 'In full'}: phase ${running.done} of ${running.of}`}
        <progress value={running.done} max={running.of} aria-label="How far the stride is" />
        <button type="button" onClick={cancelStride}>
          Cancel
        </button>
      </p>
    );
  if (!stopped) return null;
  return (
    <p className="study-running small" role="status">
      Stopped.
      <button type="button" onClick={runAgain}>
        Run the stride
      </button>
    </p>
  );
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
          Least clearance: <strong className="worst-gap">{gap(tip.leastGapMm)}</strong> at the {tip.side} tip edge,
          phase {index + 1} of {frames.length}
        </button>
        {'; standing '}
        {gap(leastOf([still.innerGapMm, still.bearingGapMm, still.outerGapMm]))}
        {isCoarse && <span className="soft"> (first look: fewer phases, coarser grid)</span>}
      </p>
      <p>
        Most under the tips: left <Figure of={pressureFigure(result.tips[0].highestPressureKPa, units)} />, right{' '}
        <Figure of={pressureFigure(result.tips[1].highestPressureKPa, units)} />. <LoadCheck result={result} />
      </p>
      <p className="small soft">
        Over one stride, 0 to 1; clearance to the top of the pad at rest, + clear, − squeeze. The last figure: bearing
        line, from the tip edge back, standing and at the worst phase.
      </p>
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
      Load check: carried <Figure of={forceFigure(furthest.supportedN, units)} />, applied{' '}
      <Figure of={forceFigure(furthest.appliedN, units)} /> where they are furthest apart (by{' '}
      {((100 * off(furthest)) / furthest.appliedN).toFixed(4)} %)
      {unsettled > 0 && `; ${unsettled} phases did not settle, their figures are the last step’s`}.
    </span>
  );
}

function Assumed({ done: { begun } }: { done: DoneStride }) {
  const units = useView((view) => view.units);
  const { blades, stride } = begun;
  const far = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  const said = (what: 'height' | 'swing'): string =>
    blades.assumed.includes(what) ? 'assumed, of an average horse (no source)' : 'as the back states';
  return (
    <p className="small soft assumed">
      Blade under the skin: raised left {far(blades.heightLeftMm)}, right {far(blades.heightRightMm)} ({said('height')}
      ); swings back left {far(stride.swingLeftMm)}, right {far(stride.swingRightMm)} ({said('swing')}). Right leg half
      a stride after the left, as at walk and trot; the blade’s path in time is our own choice. The tree settles anew at
      every phase, as if it stood still there: no inertia, no muscle, no sliding skin. Shown slower than any horse goes.
    </p>
  );
}
