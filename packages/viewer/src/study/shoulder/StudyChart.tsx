import { type ReactNode, useRef } from 'react';
import { useWidth } from '../../ruler/use-width.ts';
import './shoulder.css';

export interface ChartLine {
  readonly id: string;
  /** Said at its right end; empty for none. */
  readonly name: string;
  readonly className: string;
  readonly x: ArrayLike<number>;
  /** In the unit on show; NaN leaves a gap. */
  readonly y: ArrayLike<number>;
}

export interface ChartMark {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

export interface StudyChartProps {
  readonly title: ReactNode;
  /** The whole figure in words. */
  readonly label: string;
  readonly lines: readonly ChartLine[];
  readonly ticks: readonly { readonly x: number; readonly text: string }[];
  readonly range: readonly [number, number];
  readonly marks?: readonly ChartMark[];
  /** Where the phase on show is. */
  readonly at?: number;
  readonly height?: number;
}

const LEFT = 34;
const RIGHT = 52;
const TOP = 8;
const BOTTOM = 18;
const LEAST_APART = 11;

/** Thin lines over one axis, named at their ends, with a line at nothing. */
export function StudyChart({ title, label, lines, ticks, range, marks = [], at, height = 128 }: StudyChartProps) {
  const holder = useRef<HTMLDivElement>(null);
  const width = useWidth(holder, 300);
  const [low, high] = spanOf(lines, marks);
  const [from, to] = range;
  const px = (x: number): number => LEFT + ((x - from) / (to - from)) * (width - LEFT - RIGHT);
  const py = (y: number): number => TOP + ((high - y) / (high - low)) * (height - TOP - BOTTOM);
  const levels = levelsOf(low, high);
  return (
    <figure className="study-chart">
      <figcaption className="small">{title}</figcaption>
      <div ref={holder}>
        <svg width={width} height={height} role="img" aria-label={label}>
          {levels.map((level) => (
            <g key={level}>
              <line
                className={level === 0 ? 'zero' : 'level'}
                x1={LEFT}
                x2={width - RIGHT}
                y1={py(level)}
                y2={py(level)}
              />
              <text x={LEFT - 4} y={py(level) + 4} textAnchor="end">
                {String(Number(level.toPrecision(3))).replace('-', '−')}
              </text>
            </g>
          ))}
          {ticks.map(({ x, text }) => (
            <text key={text} x={px(x)} y={height - 4} textAnchor="middle">
              {text}
            </text>
          ))}
          {at !== undefined && <line className="phase" x1={px(at)} x2={px(at)} y1={TOP} y2={height - BOTTOM} />}
          {lines.map(({ id, className, x, y }) => (
            <path key={id} className={`curve ${className}`} d={pathOf(x, y, px, py)} />
          ))}
          <Names lines={lines} px={px} py={py} />
          {marks.map(({ x, y, text }) => (
            <g key={text} className="mark">
              <circle cx={px(x)} cy={py(y)} r={3} />
              <text
                x={px(x) + (px(x) > width - 120 ? -6 : 6)}
                y={py(y) + 15}
                textAnchor={px(x) > width - 120 ? 'end' : 'start'}
              >
                {text}
              </text>
            </g>
          ))}
        </svg>
      </div>
    </figure>
  );
}

/** Names at the right ends, pushed apart where lines meet. */
function Names({
  lines,
  px,
  py,
}: {
  lines: readonly ChartLine[];
  px: (x: number) => number;
  py: (y: number) => number;
}) {
  const named = lines
    .filter(({ name }) => name !== '')
    .map(({ id, name, x, y }) => {
      let last = y.length - 1;
      while (last > 0 && Number.isNaN(y[last]!)) last--;
      return { id, name, x: px(x[last]!) + 4, y: py(y[last]!) + 4 };
    })
    .filter(({ y }) => Number.isFinite(y))
    .sort((a, b) => a.y - b.y);
  for (let i = 1; i < named.length; i++) named[i]!.y = Math.max(named[i]!.y, named[i - 1]!.y + LEAST_APART);
  return named.map(({ id, name, x, y }) => (
    <text key={id} className="name" x={x} y={y}>
      {name}
    </text>
  ));
}

function spanOf(lines: readonly ChartLine[], marks: readonly ChartMark[]): [number, number] {
  let low = 0;
  let high = 0;
  const take = (value: number): void => {
    if (value < low) low = value;
    if (value > high) high = value;
  };
  for (const { y } of lines) for (let i = 0; i < y.length; i++) take(y[i]!);
  for (const { y } of marks) take(y);
  const room = Math.max(1e-3, (high - low) * 0.08);
  const below = marks.length > 0 ? 2.6 * room : room;
  return [low === 0 ? 0 : low - below, high === 0 && low < 0 ? room : high + room];
}

/** Three to six round values, nothing among them. */
function levelsOf(low: number, high: number): number[] {
  const rough = (high - low) / 4;
  const ten = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((k) => k * ten).find((s) => s >= rough) ?? 10 * ten;
  const levels: number[] = [];
  for (let k = Math.ceil(low / step); k * step <= high; k++) levels.push(k === 0 ? 0 : k * step);
  return levels;
}

function pathOf(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  px: (x: number) => number,
  py: (y: number) => number,
): string {
  let path = '';
  let isDown = false;
  for (let i = 0; i < y.length; i++) {
    if (Number.isNaN(y[i]!)) isDown = false;
    else {
      path += `${isDown ? 'L' : 'M'}${px(x[i]!).toFixed(1)} ${py(y[i]!).toFixed(1)}`;
      isDown = true;
    }
  }
  return path;
}
