import type { BackComparison } from '../back/index.ts';
import { type Chain, levelLines, regionRings, type ValueGrid } from './pressure-map-contours.ts';
import { placeLabels } from './pressure-map-labels.ts';
import { INK, LIGHT_INK, PAPER } from './pressure-map-paper.ts';
import type { MapScale } from './pressure-map-scale.ts';
import { mm, textAt } from './pressure-map-text.ts';

/** Where the drawing lies on the page, 1 unit = 1 mm of the horse: y = 0 of the horse frame, and its x = 0. */
export interface ChangePlace {
  readonly midX: number;
  readonly topY: number;
}

/** The compared grid with what each node shows. */
export interface ChangeGrid extends ValueGrid {
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Limit less the size of the difference: 0 and more is within measuring error. NaN without data. */
  readonly hidden: Float64Array;
}

/** Rows of the comparison as a grid: one row of nodes for each x. */
export function createChangeGrid({ rows }: BackComparison): ChangeGrid {
  const columns = rows.filter(({ xMm }) => xMm === rows[0]!.xMm).length;
  const of = (pick: (row: (typeof rows)[number]) => number): Float64Array => Float64Array.from(rows, pick);
  return {
    rows: rows.length / columns,
    columns,
    values: of((row) => row.differenceMm),
    hidden: of((row) => row.limitMm - Math.abs(row.differenceMm)),
    xMm: of((row) => row.xMm),
    yMm: of((row) => row.yMm),
  };
}

/** Coloured steps with contour figures where a change can be shown; hatched where it can't, or where there is no data. */
export function drawChangeField(grid: ChangeGrid, scale: MapScale, place: ChangePlace): string {
  const points = (chain: Chain): [number, number][] => chain.map((crossing) => pointOf(grid, crossing, place));
  const frame = outline(grid, place);
  const fills = scale.fillLevels.map((level, i) => {
    const rings = regionRings(grid, level).map((ring) => pathOf(points(ring)));
    return rings.length === 0 ? '' : `<path d="${rings.join('')}" fill="${scale.fill(i + 1)}" fill-rule="evenodd"/>`;
  });
  const shown: ValueGrid = {
    ...grid,
    values: grid.values.map((value, i) => (grid.hidden[i]! >= 0 ? Number.NaN : value)),
  };
  const lines = scale.lineLevels.flatMap((level) =>
    levelLines(shown, level).map((chain) => ({ level, points: points(chain) })),
  );
  const contours = lines.map(
    (line) =>
      `<path d="${linePath(line.points)}" fill="none" stroke="${scale.isDark(line.level) ? PAPER : INK}" stroke-opacity="0.55" stroke-width="0.55"/>`,
  );
  const labels = placeLabels(lines, []).map(({ x, y, level, text }) => {
    const halo = scale.fill(scale.fillLevels.filter((at) => at <= level).length);
    const signed = level > 0 ? `+${text}` : text;
    return textAt(x, y + 3, signed, {
      size: 8.5,
      anchor: 'middle',
      halo,
      colour: scale.isDark(level) ? PAPER : INK,
    });
  });
  return [
    `<path d="${frame}" fill="${scale.fill(0)}"/>`,
    ...fills,
    ...contours,
    withinError(grid, place),
    withoutData(grid, place),
    ...labels,
    `<path d="${frame}" fill="none" stroke="${INK}" stroke-width="1.2"/>`,
  ].join('\n');
}

/** The two hatchings, to be put into the page's definitions. */
export const CHANGE_PATTERNS =
  `<pattern id="within-error" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="9" height="9" fill="#e9e5dc"/><line x1="0" y1="0" x2="0" y2="9" stroke="#b9b2a5" stroke-width="1.3"/></pattern>` +
  `<pattern id="no-data" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="7" height="7" fill="${PAPER}"/><path d="M0 0V7M0 0H7" stroke="${LIGHT_INK}" stroke-width="1.5"/></pattern>`;

function withinError(grid: ChangeGrid, place: ChangePlace): string {
  const rings = regionRings({ ...grid, values: grid.hidden }, 0);
  if (rings.length === 0) return '';
  const data = rings.map((ring) => pathOf(ring.map((crossing) => pointOf(grid, crossing, place)))).join('');
  return `<path d="${data}" fill="url(#within-error)" fill-rule="evenodd" stroke="${LIGHT_INK}" stroke-width="0.6"/>`;
}

function withoutData(grid: ChangeGrid, place: ChangePlace): string {
  const { rows, columns, values } = grid;
  const squares: string[] = [];
  for (let i = 0; i < rows - 1; i++) {
    for (let j = 0; j < columns - 1; j++) {
      const node = i * columns + j;
      const corners = [node, node + 1, node + columns + 1, node + columns];
      if (corners.some((k) => Number.isNaN(values[k]!)))
        squares.push(pathOf(corners.map((k) => nodeOf(grid, k, place))));
    }
  }
  return squares.length === 0 ? '' : `<path d="${squares.join('')}" fill="url(#no-data)"/>`;
}

/** Seen from above, front up: the horse's right lies to the right. */
const nodeOf = ({ xMm, yMm }: ChangeGrid, node: number, { midX, topY }: ChangePlace): [number, number] => [
  midX + yMm[node]!,
  topY + xMm[node]!,
];

function pointOf(grid: ChangeGrid, { nodeA, nodeB, share }: Chain[number], place: ChangePlace): [number, number] {
  const [ax, ay] = nodeOf(grid, nodeA, place);
  const [bx, by] = nodeOf(grid, nodeB, place);
  return [ax + share * (bx - ax), ay + share * (by - ay)];
}

function outline(grid: ChangeGrid, place: ChangePlace): string {
  const last = grid.rows * grid.columns - 1;
  const corners = [0, grid.columns - 1, last, last - grid.columns + 1];
  return pathOf(corners.map((node) => nodeOf(grid, node, place)));
}

const linePath = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${mm(x)} ${mm(y)}`).join('');

const pathOf = (points: readonly (readonly [number, number])[]): string => `${linePath(points)}Z`;
