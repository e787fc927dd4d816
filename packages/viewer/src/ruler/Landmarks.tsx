import type { BackView } from '../contract.ts';
import { figureText, lengthFigure } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import type { RulerFrame } from './frame.ts';
import { rulerTicks } from './ruler-scale.ts';

const T = TEXTS.ruler;
/** Half of the widest figure of a tick. */
const END_PX = 16;

/** Blade edge and last rib down the whole ruler, and the usable length between them as a dimension with its arrows. */
export function Landmarks({
  frame,
  back,
  topPx,
  bottomPx,
}: {
  frame: RulerFrame;
  back: Pick<BackView, 'usable'>;
  topPx: number;
  bottomPx: number;
}) {
  const { scale, units } = frame;
  const from = scale.toPx(back.usable.fromXMm);
  const to = scale.toPx(back.usable.toXMm);
  const y = topPx + 16;
  const length = figureText(lengthFigure(back.usable.toXMm - back.usable.fromXMm, units, { decimals: 0 }));
  return (
    <g className="landmarks">
      <line className="landmark" x1={from} x2={from} y1={topPx + 6} y2={bottomPx} />
      <line className="landmark" x1={to} x2={to} y1={topPx + 6} y2={bottomPx} />
      <path className="dimension" d={`M${from} ${y}H${to}`} />
      <path className="arrow" d={`M${from} ${y}l8 -2.6v5.2zM${to} ${y}l-8 -2.6v5.2z`} />
      <text className="dimension-text" x={(from + to) / 2} y={y - 4} textAnchor="middle">
        {T.usable} {length}
      </text>
      <text className="note" x={from + 4} y={y + 13}>
        {T.bladeEdge}
      </text>
      <text className="note" x={to - 4} y={y + 13} textAnchor="end">
        {T.lastRib}
      </text>
    </g>
  );
}

/** The axis itself. */
export function Axis({ frame, topPx, noteY }: { frame: RulerFrame; topPx: number; noteY: number }) {
  const { scale, units } = frame;
  const left = scale.toPx(scale.fromMm);
  const right = scale.toPx(scale.toMm);
  return (
    <g className="axis">
      <line x1={left} x2={right} y1={topPx} y2={topPx} />
      {rulerTicks(scale, units.length, frame.isNarrow ? 44 : 52).map((tick) => {
        const x = scale.toPx(tick.xMm);
        return (
          <g key={tick.xMm}>
            <line x1={x} x2={x} y1={topPx} y2={topPx + (tick.label === '' ? 4 : 8)} />
            {tick.label !== '' && (
              <text x={Math.min(frame.widthPx - END_PX, Math.max(END_PX, x))} y={topPx + 20} textAnchor="middle">
                {tick.label}
              </text>
            )}
          </g>
        );
      })}
      <text className="note" x={(left + right) / 2} y={noteY} textAnchor="middle">
        {T.axis(units.length)}
      </text>
    </g>
  );
}
