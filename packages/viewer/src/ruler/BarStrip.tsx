import { figureText, lengthFigure } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import type { RulerFrame } from './frame.ts';

const T = TEXTS.ruler;

/** Where the bars lie along the ruler, mm behind the blade edge. */
export interface BarPlaces {
  readonly frontMm: number;
  readonly rearMm: number;
  readonly frontFlareEndMm: number;
  readonly rearFlareStartMm: number;
}

/** The bar from tip to tip with its flare zones, between the side view and the curves. */
export function BarStrip({ frame, places, topPx }: { frame: RulerFrame; places: BarPlaces; topPx: number }) {
  const { scale, units } = frame;
  const [front, flareEnd, flareStart, rear] = [
    places.frontMm,
    places.frontFlareEndMm,
    places.rearFlareStartMm,
    places.rearMm,
  ].map(scale.toPx) as [number, number, number, number];
  const text = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  return (
    <g className="bar-strip">
      <rect className="wood" x={front} y={topPx} width={Math.max(0, rear - front)} height={12} rx={3} />
      <rect className="flare" x={front} y={topPx} width={Math.max(0, flareEnd - front)} height={12} rx={3} />
      <rect className="flare" x={flareStart} y={topPx} width={Math.max(0, rear - flareStart)} height={12} rx={3} />
      <text className="strip-text" x={(flareEnd + flareStart) / 2} y={topPx + 10} textAnchor="middle">
        {T.bar} {text(places.rearMm - places.frontMm)}
      </text>
      {!frame.isNarrow && (
        <>
          <text className="note" x={(front + flareEnd) / 2} y={topPx + 23} textAnchor="middle">
            {T.front}
          </text>
          <text className="note" x={(flareStart + rear) / 2} y={topPx + 23} textAnchor="middle">
            {T.rear}
          </text>
        </>
      )}
    </g>
  );
}
