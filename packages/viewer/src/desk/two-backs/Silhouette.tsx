import { useId, useRef, useState } from 'react';
import { Figure } from '../../look/Figure.tsx';
import { figureText, gapFigure, lengthFigure, type Units } from '../../look/format.ts';
import { TWO_BACKS_TEXTS } from '../../look/texts/two-backs.ts';
import { useWidth } from '../../ruler/use-width.ts';
import type { Silhouettes } from './two-backs-service.ts';

const T = TWO_BACKS_TEXTS.cut;

interface SilhouetteProps {
  readonly silhouettes: Silhouettes;
  readonly beforeOn: string;
  readonly afterOn: string;
  readonly units: Units;
}

type Shown = 'both' | 'before' | 'after';

const HEAD_PX = 22;
const FOOT_PX = 22;

/** Both backs cut at one station, true to scale, from behind: what the map's colours come to there. */
export function Silhouette({ silhouettes, beforeOn, afterOn, units }: SilhouetteProps) {
  const id = useId();
  const { xMm } = silhouettes;
  const [wanted, setWanted] = useState(Math.floor(xMm.length / 2));
  const [shown, setShown] = useState<Shown>('both');
  const at = Math.min(wanted, xMm.length - 1);
  const x = xMm[at] ?? 0;
  return (
    <section className="silhouette" aria-label={T.label}>
      <div className="silhouette-head">
        <label htmlFor={id}>
          {T.at}
          <Figure of={lengthFigure(x, units, { decimals: 0 })} />
          {T.behindBlade}
        </label>
        <input
          id={id}
          type="range"
          min={0}
          max={xMm.length - 1}
          value={at}
          aria-valuetext={figureText(lengthFigure(x, units, { decimals: 0 }))}
          onChange={(event) => setWanted(Number(event.currentTarget.value))}
        />
        <fieldset className="switch">
          <legend className="visually-hidden">{T.shown}</legend>
          {(['both', 'before', 'after'] as const).map((which) => (
            <button key={which} type="button" aria-pressed={shown === which} onClick={() => setShown(which)}>
              {which === 'both' ? T.both : which === 'before' ? T.before(beforeOn) : T.after(afterOn)}
            </button>
          ))}
        </fieldset>
      </div>
      <Cut silhouettes={silhouettes} at={at} shown={shown} units={units} />
    </section>
  );
}

function Cut({ silhouettes, at, shown, units }: { silhouettes: Silhouettes; at: number; shown: Shown; units: Units }) {
  const holder = useRef<HTMLDivElement>(null);
  const width = useWidth(holder, 700);
  const { yMm, beforeMm, afterMm, limitMm } = silhouettes;
  const n = yMm.length;
  const [before, after, limit] = [beforeMm, afterMm, limitMm].map((all) => all.subarray(at * n, (at + 1) * n)) as [
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const known = [...before, ...after].filter((z) => !Number.isNaN(z));
  const high = known.length === 0 ? 0 : Math.max(...known);
  const low = known.length === 0 ? 0 : Math.min(...known);
  const pxPerMm = Math.min(1.6, (width - 24) / (yMm[n - 1]! - yMm[0]!));
  const height = Math.ceil((high - low) * pxPerMm) + HEAD_PX + FOOT_PX;
  const toX = (y: number): number => width / 2 + y * pxPerMm;
  const toY = (z: number): number => HEAD_PX + (high - z) * pxPerMm;
  const path = (line: Float64Array): string => {
    let d = '';
    let isDown = false;
    for (let j = 0; j < n; j++) {
      const z = line[j]!;
      if (Number.isNaN(z)) {
        isDown = false;
        continue;
      }
      d += `${isDown ? 'L' : 'M'}${toX(yMm[j]!).toFixed(1)} ${toY(z).toFixed(1)}`;
      isDown = true;
    }
    return d;
  };
  const far = largest(before, after);
  return (
    <div ref={holder} className="silhouette-drawing">
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={sayFar(far, yMm, units)}
      >
        {shown === 'both' && <path className="between" d={betweenPath(before, after, limit, yMm, toX, toY)} />}
        <line className="centre" x1={width / 2} x2={width / 2} y1={16} y2={height - 16} />
        {shown !== 'after' && <path className="before" d={path(before)} />}
        {shown !== 'before' && <path className="after" d={path(after)} />}
        <text x={toX(yMm[0]!)} y={height - 5}>
          {T.left}
        </text>
        <text x={toX(yMm[n - 1]!)} y={height - 5} textAnchor="end">
          {T.right}
        </text>
        <text x={toX(yMm[0]!)} y={13}>
          {known.length === 0 ? T.noData : sayFar(far, yMm, units)}
        </text>
      </svg>
      <p className="small soft">
        {shown === 'both' && T.lines}
        {T.scale}
      </p>
    </div>
  );
}

/** Index and value of the largest difference, or null without data on both. */
function largest(before: Float64Array, after: Float64Array): { j: number; mm: number } | null {
  let found: { j: number; mm: number } | null = null;
  for (let j = 0; j < before.length; j++) {
    const mm = after[j]! - before[j]!;
    if (!Number.isNaN(mm) && (found === null || Math.abs(mm) > Math.abs(found.mm))) found = { j, mm };
  }
  return found;
}

function sayFar(far: ReturnType<typeof largest>, yMm: Float64Array, units: Units): string {
  if (far === null) return T.noneOnBoth;
  const y = yMm[far.j]!;
  const side =
    y === 0
      ? T.midline
      : T.aside(figureText(lengthFigure(Math.abs(y), units, { decimals: 0 })), y < 0 ? T.left : T.right);
  return T.most(side, figureText(gapFigure(far.mm, units, { signed: true })));
}

/** Cells between the two lines where their difference exceeds its limit. */
function betweenPath(
  before: Float64Array,
  after: Float64Array,
  limit: Float64Array,
  yMm: Float64Array,
  toX: (y: number) => number,
  toY: (z: number) => number,
): string {
  let d = '';
  for (let j = 1; j < yMm.length; j++) {
    const isShown = [j - 1, j].every((k) => Math.abs(after[k]! - before[k]!) > limit[k]!);
    if (!isShown) continue;
    const corners = [
      [j - 1, before],
      [j, before],
      [j, after],
      [j - 1, after],
    ] as const;
    d += `M${corners.map(([k, line]) => `${toX(yMm[k]!).toFixed(1)} ${toY(line[k]!).toFixed(1)}`).join('L')}Z`;
  }
  return d;
}
