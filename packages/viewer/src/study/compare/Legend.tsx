import type { MapScale } from '@barwright/geometry';
import { figureText, gapFigure, pressureFigure, type Units } from '../../look/format.ts';

/** A fixed scale of colours with its figures and its unit. */
export function Legend({
  scale,
  units,
  widthPx,
  topPx,
  name,
  ends,
}: {
  scale: MapScale;
  units: Units;
  widthPx: number;
  topPx: number;
  name: string;
  /** Words for the low and the high end. */
  ends: readonly [string, string];
}) {
  const isNarrow = widthPx < 560;
  const left = isNarrow ? 24 : 92;
  const width = Math.min(420, widthPx - left - 60);
  const at = (value: number): number => left + ((value - scale.lowest) / (scale.highest - scale.lowest)) * width;
  const edges = [scale.lowest, ...scale.fillLevels, scale.highest];
  const top = topPx + 18;
  const { unit } = figureOf(1, scale, units);
  const marks = scale.marks.filter((value, i, all) => i === 0 || at(value) - at(all[i - 1]!) > 30);
  return (
    <g className="compare-legend">
      <text className="compare-figures" x={left} y={topPx + 12}>
        {name}, {unit}
        {ends[0] !== '' && `: − ${ends[0]}, + ${ends[1]}`}
      </text>
      {edges.slice(0, -1).map((edge, i) => (
        <rect
          key={edge}
          x={at(edge)}
          y={top}
          width={Math.max(0, at(edges[i + 1]!) - at(edge)) + 0.3}
          height={12}
          fill={scale.fill(i)}
        />
      ))}
      <rect className="map-outline" x={left} y={top} width={width} height={12} />
      {marks.map((value) => (
        <g key={value}>
          <line className="tick-line" x1={at(value)} x2={at(value)} y1={top + 12} y2={top + 16} />
          <text className="note" x={at(value)} y={top + 27} textAnchor="middle">
            {figureText({ ...figureOf(value, scale, units), unit: '' })}
          </text>
        </g>
      ))}
    </g>
  );
}

const figureOf = (value: number, { unit }: MapScale, units: Units) =>
  unit === 'mm' ? gapFigure(value, units, { decimals: Number.isInteger(value) ? 0 : 1 }) : pressureFigure(value, units);
