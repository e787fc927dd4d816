import type { Px } from './photo-work.ts';

export interface CurveFigureProps {
  /** mm: to the right (or towards the tail), and up. */
  readonly points: readonly Px[];
  /** Height of the level line, mm, when one is known. */
  readonly levelMm: number | null;
  readonly label: string;
}

const GRID_MM = 10;
const BOLD_MM = 50;
const MARGIN_MM = 12;

/** The curve in mm, to one scale both ways, on a grid of 10 mm with every 50 mm heavier and named. */
export function CurveFigure({ points, levelMm, label }: CurveFigureProps) {
  const heights = [...points.map(([, y]) => y), ...(levelMm === null ? [] : [levelMm])];
  const x0 = down(Math.min(...points.map(([x]) => x)) - MARGIN_MM);
  const x1 = up(Math.max(...points.map(([x]) => x)) + MARGIN_MM);
  const y0 = down(Math.min(...heights) - MARGIN_MM);
  const y1 = up(Math.max(...heights) + MARGIN_MM);
  const text = Math.max(x1 - x0, y1 - y0) / 36;
  const columns = steps(x0, x1);
  const rows = steps(y0, y1);
  const namedEvery = x1 - x0 > 700 ? 2 * BOLD_MM : BOLD_MM;
  return (
    <figure className="photo-figure">
      <svg
        viewBox={`${x0 - 3 * text} ${-y1 - text} ${x1 - x0 + 4.5 * text} ${y1 - y0 + 3.2 * text}`}
        role="img"
        aria-label={label}
      >
        {columns.map((x) => (
          <line key={x} className={x % BOLD_MM === 0 ? 'grid bold' : 'grid'} x1={x} x2={x} y1={-y1} y2={-y0} />
        ))}
        {rows.map((y) => (
          <line key={y} className={y % BOLD_MM === 0 ? 'grid bold' : 'grid'} x1={x0} x2={x1} y1={-y} y2={-y} />
        ))}
        {columns
          .filter((x) => x % namedEvery === 0)
          .map((x) => (
            <text key={x} className="figure-text" x={x} y={-y0 + 1.3 * text} fontSize={text} textAnchor="middle">
              {minus(x)}
            </text>
          ))}
        {rows
          .filter((y) => y % BOLD_MM === 0)
          .map((y) => (
            <text
              key={y}
              className="figure-text"
              x={x0 - 0.4 * text}
              y={-y + 0.35 * text}
              fontSize={text}
              textAnchor="end"
            >
              {minus(y)}
            </text>
          ))}
        {levelMm !== null && <line className="level" x1={x0} y1={-levelMm} x2={x1} y2={-levelMm} />}
        <polyline className="curve" points={points.map(([x, y]) => `${x.toFixed(2)},${(-y).toFixed(2)}`).join(' ')} />
      </svg>
    </figure>
  );
}

const down = (v: number): number => Math.floor(v / GRID_MM) * GRID_MM;
const up = (v: number): number => Math.ceil(v / GRID_MM) * GRID_MM;
const minus = (v: number): string => String(v).replace('-', '\u2212');

function steps(from: number, to: number): number[] {
  return Array.from({ length: Math.round((to - from) / GRID_MM) + 1 }, (_, i) => from + i * GRID_MM);
}
