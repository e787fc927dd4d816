import { TEXTS } from '../look/texts.ts';
import type { MarkedStretch, RulerFrame } from './frame.ts';
import { GapBand } from './GapBand.tsx';
import { LoadBand } from './LoadBand.tsx';
import type { RulerProps } from './ruler-props.ts';
import type { Rows } from './ruler-rows.ts';
import { SideView } from './SideView.tsx';
import type { SideScale } from './side-scale.ts';

const T = TEXTS.ruler;

/** The stretch that a touched sentence speaks of. */
export function Mark({ frame, marked, rows }: { frame: RulerFrame; marked: MarkedStretch; rows: Rows }) {
  const x = frame.scale.toPx(marked.fromMm);
  const width = Math.max(4, frame.scale.toPx(marked.toMm) - x);
  return <rect className="mark" x={x} y={rows.side} width={width} height={rows.axis - rows.side} />;
}

interface CurvesProps extends Pick<RulerProps, 'fit' | 'limits' | 'marked' | 'isLaidOn'> {
  readonly frame: RulerFrame;
  readonly rows: Rows;
  readonly side: SideScale | null;
}

/** Side view, gaps of both bars and load along them. */
export function Curves({ fit, limits, marked, isLaidOn, frame, rows, side }: CurvesProps) {
  if (fit === null) return null;
  const profiles = isLaidOn ? fit.laidOnProfiles : fit.profiles;
  const band = { frame, limits, heightPx: rows.gapHeight };
  const ghost = isLaidOn ? null : fit.laidOnProfiles;
  const name = (long: string, short: string): string => (frame.isNarrow ? short : long);
  const isMarked = (side: 'left' | 'right'): boolean =>
    marked !== null && (marked.side === 'both' || marked.side === side);
  return (
    <g className="curves">
      {side !== null && (
        <SideView frame={frame} profiles={profiles} side={side} bottomPx={rows.side + rows.sideHeight} />
      )}
      <GapBand
        {...band}
        profile={profiles.left}
        laidOn={ghost?.left ?? null}
        name={name(T.gapLeft, TEXTS.left)}
        topPx={rows.gapLeft}
        isMarked={isMarked('left')}
      />
      <GapBand
        {...band}
        profile={profiles.right}
        laidOn={ghost?.right ?? null}
        name={name(T.gapRight, TEXTS.right)}
        topPx={rows.gapRight}
        isMarked={isMarked('right')}
      />
      <LoadBand
        frame={frame}
        profiles={fit.profiles}
        topPx={rows.load}
        heightPx={rows.loadHeight}
        appliedN={fit.result.load.appliedN}
      />
    </g>
  );
}
