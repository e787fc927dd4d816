import type { BarProfile } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';
import { linePath, mapped } from './curve-path.ts';
import type { RulerFrame } from './frame.ts';
import type { SideScale } from './side-scale.ts';

const T = TEXTS.ruler;

export interface SideViewProps {
  readonly frame: RulerFrame;
  readonly profiles: { readonly left: BarProfile; readonly right: BarProfile };
  /** Wanted vertical exaggeration; drawn smaller when it would not fit, and labelled as drawn. */
  readonly side: SideScale;
  /** Lower edge of the drawing, px. */
  readonly bottomPx: number;
}

/** Bearing lines of bars and back seen from the side: right solid, left dashed. */
export function SideView({ frame, profiles, side, bottomPx }: SideViewProps) {
  const { scale } = frame;
  const sides = [profiles.left, profiles.right] as const;
  const { toY, middleY: middle } = side;
  const factor = side.pxPerMm / scale.pxPerMm;
  // Across a room a sign is not enough: in words.
  const times = (frame.zoom ?? 1) > 1 ? T.exaggeratedWords : T.exaggerated;
  const say = Math.abs(factor - 1) < 0.05 ? T.trueScale : times(factor.toFixed(1));
  return (
    <g className="side-view">
      {sides.map((p) => {
        const x = mapped(p.xMm, scale.toPx);
        return (
          <g key={p.side} className={p.side}>
            <path className="back-line" d={linePath(x, mapped(p.backZMm, toY))} />
            <path className="bar-line" d={linePath(x, mapped(p.barZMm, toY))} />
          </g>
        );
      })}
      <EndNames frame={frame} profile={profiles.right} toY={toY} />
      {frame.isNarrow ? (
        <text className="note" x={scale.toPx(scale.toMm) - 4} y={bottomPx - 3} textAnchor="end">
          {say}
        </text>
      ) : (
        <>
          <text className="name" x={8} y={middle}>
            {T.sideView}
          </text>
          <text className="note" x={8} y={middle + 14}>
            {say}
          </text>
        </>
      )}
    </g>
  );
}

function EndNames({ frame, profile, toY }: { frame: RulerFrame; profile: BarProfile; toY: (z: number) => number }) {
  const last = profile.xMm.length - 1;
  const x = frame.scale.toPx(profile.xMm[last]!) + 5;
  if (x + 30 > frame.widthPx) return null;
  const bar = toY(profile.barZMm[last]!);
  const back = toY(profile.backZMm[last]!);
  return (
    <g>
      <text className="curve-name bar" x={x} y={Math.min(bar, Number.isNaN(back) ? bar : back - 12) + 3}>
        {T.bar}
      </text>
      {!Number.isNaN(back) && (
        <text className="curve-name back" x={x} y={back + 3}>
          {T.back}
        </text>
      )}
    </g>
  );
}
