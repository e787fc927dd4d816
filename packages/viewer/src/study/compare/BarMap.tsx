import {
  type Chain,
  levelLines,
  MAP_ANCHORS,
  type MapGrid,
  type MapScale,
  oklabToSrgb,
  regionRings,
  toHex,
} from '@barwright/geometry';
import { memo } from 'react';
import { SCENE_PALETTES } from '../../scene/palette.ts';

/** Where a map lies on the drawing. */
export interface MapPlace {
  readonly toX: (alongMm: number) => number;
  readonly toY: (acrossMm: number) => number;
  /** Says when the place has moved: functions are new at every drawing. */
  readonly key: string;
}

export interface BarMapProps {
  readonly grid: MapGrid;
  readonly scale: MapScale;
  readonly place: MapPlace;
  /** Levels drawn bold: just touching, or the limits of pressure. */
  readonly bold: readonly number[];
  /** In what the drawing's unit is shown. */
  readonly figure: (value: number) => string;
  readonly hatchId: string;
}

/** Lines on the map stand on its own colours, which are the same by day and by night. */
const INK = SCENE_PALETTES.light.ink;
const PAPER = toHex(oklabToSrgb(MAP_ANCHORS.parchment));

type Point = readonly [number, number];

/** One underside laid flat along the ruler: coloured steps, lines with figures, hatched where there is no data. */
export const BarMap = memo(drawBarMap, (a, b) => {
  const isSamePlace = a.place.key === b.place.key && a.hatchId === b.hatchId;
  return (
    isSamePlace &&
    a.grid === b.grid &&
    scaleKey(a.scale) === scaleKey(b.scale) &&
    String(a.bold) === String(b.bold) &&
    a.figure(1) === b.figure(1)
  );
});

const scaleKey = ({ unit, lowest, highest }: MapScale): string => `${unit} ${lowest} ${highest}`;

function drawBarMap({ grid, scale, place, bold, figure, hatchId }: BarMapProps) {
  const at = (node: number): Point => [place.toX(grid.alongMm[node]!), place.toY(grid.acrossMm[node]!)];
  const points = (chain: Chain): Point[] =>
    chain.map(({ nodeA, nodeB, share }) => {
      const [[ax, ay], [bx, by]] = [at(nodeA), at(nodeB)];
      return [ax + share * (bx - ax), ay + share * (by - ay)];
    });
  const outline = closed(outlineNodes(grid).map(at));
  const lines = scale.lineLevels.map((level) => ({ level, chains: levelLines(grid, level).map(points) }));
  const labels = placeLabels(lines);
  return (
    <g className="bar-map">
      <path d={outline} fill={scale.fill(0)} />
      {scale.fillLevels.map((level, i) => {
        const rings = regionRings(grid, level);
        return rings.length === 0 ? null : (
          <path
            key={level}
            d={rings.map((ring) => closed(points(ring))).join('')}
            fill={scale.fill(i + 1)}
            fillRule="evenodd"
          />
        );
      })}
      {lines.map(({ level, chains }) => (
        <path
          key={level}
          className="map-line"
          d={chains.map(open).join('')}
          stroke={scale.isDark(level) ? PAPER : INK}
        />
      ))}
      {bold.map((level) => (
        <path
          key={level}
          className="map-bold"
          d={levelLines(grid, level)
            .map((chain) => open(points(chain)))
            .join('')}
          stroke={INK}
        />
      ))}
      <path d={missing(grid, at)} fill={PAPER} />
      <path d={missing(grid, at)} fill={`url(#${hatchId})`} />
      <path className="map-outline" d={outline} />
      {labels.map(({ x, y, level }) => (
        <text
          key={`${level} ${x}`}
          className="map-figure"
          x={x}
          y={y + 3.5}
          style={{
            fill: scale.isDark(level) ? PAPER : INK,
            stroke: scale.fill(scale.fillLevels.filter((step) => step <= level).length),
          }}
        >
          {figure(level)}
        </text>
      ))}
    </g>
  );
}

function outlineNodes({ rows, columns }: MapGrid): number[] {
  const inner = Array.from({ length: rows }, (_, i) => i * columns);
  return [...inner, ...inner.map((node) => node + columns - 1).reverse()];
}

const written = ([x, y]: Point): string => `${x.toFixed(1)} ${y.toFixed(1)}`;
const open = (points: readonly Point[]): string => points.map((p, i) => `${i === 0 ? 'M' : 'L'}${written(p)}`).join('');
const closed = (points: readonly Point[]): string => `${open(points)}Z`;

/** Squares with a corner that has no data. */
function missing({ rows, columns, values }: MapGrid, at: (node: number) => Point): string {
  let path = '';
  for (let i = 0; i + 1 < rows; i++)
    for (let j = 0; j + 1 < columns; j++) {
      const node = i * columns + j;
      const corners = [node, node + 1, node + columns + 1, node + columns];
      if (corners.some((k) => Number.isNaN(values[k]!))) path += closed(corners.map(at));
    }
  return path;
}

/** A line shorter than this has no room for its figure, and figures keep this much apart, px. */
const LEAST_LINE_PX = 44;
const APART_PX = 26;

/** The figure of a level in the middle of its longest line, where no other stands near. */
function placeLabels(
  lines: readonly { readonly level: number; readonly chains: readonly Point[][] }[],
): { x: number; y: number; level: number }[] {
  const placed: { x: number; y: number; level: number }[] = [];
  for (const { level, chains } of lines) {
    const longest = chains.reduce<Point[]>((most, chain) => (chain.length > most.length ? chain : most), []);
    if (longest.length < 2 || spanOf(longest) < LEAST_LINE_PX) continue;
    const free = [0.5, 0.3, 0.7, 0.15, 0.85]
      .map((share) => longest[Math.floor(share * (longest.length - 1))]!)
      .find(([x, y]) => placed.every((other) => Math.hypot(other.x - x, 1.6 * (other.y - y)) > APART_PX));
    if (free !== undefined) placed.push({ x: free[0], y: free[1], level });
  }
  return placed;
}

function spanOf(points: readonly Point[]): number {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return Math.max(...xs) - Math.min(...xs) + Math.max(...ys) - Math.min(...ys);
}
