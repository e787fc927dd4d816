import { treeLengthMm } from '../bar/index.ts';
import type { SeatedTree } from '../seating/index.ts';
import type { Side } from '../spatial/index.ts';
import { type Chain, levelLines, regionRings } from './pressure-map-contours.ts';
import type { MapGrid } from './pressure-map-grid.ts';
import { type ContourLabel, type LabelPlace, placeLabels } from './pressure-map-labels.ts';
import { INK, LIGHT_INK, PAPER } from './pressure-map-paper.ts';
import type { MapScale } from './pressure-map-scale.ts';
import { mm, textAt } from './pressure-map-text.ts';

/** Where the drawing lies on the page. */
export interface MapPlace {
  /** The midline of the drawing, page units (1 = 1 mm of the tree). */
  readonly midX: number;
  /** The front tip edges. */
  readonly topY: number;
}

/** A place on the page: the left bar lies left of the midline, front up. */
export function toPage({ midX, topY }: MapPlace, side: Side, acrossMm: number, alongMm: number): [number, number] {
  return [side === 'left' ? midX - acrossMm : midX + acrossMm, topY + alongMm];
}

/** Figures keep this much less from the outline than from each other. */
const EDGE_ROOM = -4;

export interface BarLayers {
  readonly values: MapGrid;
  /** For the line where the bar just touches, which pressure alone can't place. */
  readonly clearance: MapGrid;
}

/** One bar: coloured steps, contour lines with figures, hatching, slot and outline. `taken` are places no figure may cover. */
export function drawBar(
  seated: SeatedTree,
  { values, clearance }: BarLayers,
  scale: MapScale,
  place: MapPlace,
  taken: readonly LabelPlace[],
): string {
  const edge = outlinePoints(values).map(([across, along]) => toPage(place, values.side, across, along));
  const outline = pathOf(edge);
  const kept = [...taken, ...edge.map(([x, y]) => ({ x, y, radius: EDGE_ROOM }))];
  const points = (chain: Chain): [number, number][] => chainPoints(values, chain, place);
  const fills = scale.fillLevels.flatMap((level, i) => {
    const rings = regionRings(values, level);
    if (rings.length === 0) return [];
    const data = rings.map((ring) => pathOf(points(ring))).join('');
    return [`<path d="${data}" fill="${scale.fill(i + 1)}" fill-rule="evenodd"/>`];
  });
  const lines = scale.lineLevels.flatMap((level) =>
    levelLines(values, level).map((chain) => ({ level, points: points(chain) })),
  );
  const touching = levelLines(clearance, 0).map((chain) => linePath(points(chain)));
  const contours = [false, true].map((dark) => {
    const data = lines.filter(({ level }) => scale.isDark(level) === dark).map((line) => linePath(line.points));
    return data.length === 0
      ? ''
      : `<path d="${data.join('')}" fill="none" stroke="${dark ? PAPER : INK}" stroke-opacity="0.55" stroke-width="0.55"/>`;
  });
  return [
    `<path d="${outline}" fill="${scale.fill(0)}"/>`,
    ...fills,
    ...contours,
    `<path d="${touching.join('')}" fill="none" stroke="${INK}" stroke-width="1.4"/>`,
    ...placeLabels(lines, kept).map((label) => contourFigure(label, scale)),
    hatching(values, place),
    slotPath(seated, values, place),
    `<path d="${outline}" fill="none" stroke="${INK}" stroke-width="1.3"/>`,
  ].join('\n');
}

function contourFigure({ x, y, level, text }: ContourLabel, scale: MapScale): string {
  const halo = scale.fill(scale.fillLevels.filter((at) => at <= level).length);
  const colour = scale.isDark(level) ? PAPER : INK;
  return textAt(x, y + 3, text, { size: 8.5, anchor: 'middle', halo, colour });
}

function outlinePoints({ rows, columns, acrossMm, alongMm }: MapGrid): [number, number][] {
  const at = (node: number): [number, number] => [acrossMm[node]!, alongMm[node]!];
  const inner = Array.from({ length: rows }, (_, i) => at(i * columns));
  const outer = Array.from({ length: rows }, (_, i) => at(i * columns + columns - 1));
  return [...inner, ...outer.reverse()];
}

function chainPoints({ side, acrossMm, alongMm }: MapGrid, chain: Chain, place: MapPlace): [number, number][] {
  return chain.map(({ nodeA, nodeB, share }) =>
    toPage(
      place,
      side,
      acrossMm[nodeA]! + share * (acrossMm[nodeB]! - acrossMm[nodeA]!),
      alongMm[nodeA]! + share * (alongMm[nodeB]! - alongMm[nodeA]!),
    ),
  );
}

const linePath = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${mm(x)} ${mm(y)}`).join('');

const pathOf = (points: readonly (readonly [number, number])[]): string => `${linePath(points)}Z`;

/** Squares of the grid with a corner that has no data. Grey under the hatching, so that it can't be taken for a figure. */
function hatching(grid: MapGrid, place: MapPlace): string {
  const { rows, columns, values, acrossMm, alongMm, side } = grid;
  const at = (node: number): [number, number] => toPage(place, side, acrossMm[node]!, alongMm[node]!);
  const squares: string[] = [];
  for (let i = 0; i < rows - 1; i++) {
    for (let j = 0; j < columns - 1; j++) {
      const node = i * columns + j;
      const corners = [node, node + 1, node + columns + 1, node + columns];
      if (corners.some((k) => Number.isNaN(values[k]!))) squares.push(pathOf(corners.map(at)));
    }
  }
  if (squares.length === 0) return '';
  const data = squares.join('');
  return `<path d="${data}" fill="${PAPER}" stroke="${PAPER}" stroke-width="0.4"/><path d="${data}" fill="url(#no-data)"/>`;
}

/** The stirrup slot bears nothing and is left white. */
function slotPath({ tree }: SeatedTree, grid: MapGrid, place: MapPlace): string {
  const { slotCentreMm, slotLengthMm, slotWidthMm, slotAcross } = tree[grid.side].shape;
  if (slotLengthMm <= 0 || slotWidthMm <= 0) return '';
  const length = treeLengthMm(tree);
  const edge = (across: -1 | 1): [number, number][] =>
    Array.from({ length: 9 }, (_, k) => {
      const along = slotCentreMm + slotLengthMm * (k / 8 - 0.5);
      const chord = tree[grid.side].row(along).chordWidthMm;
      const share = slotAcross + (across * slotWidthMm) / 2 / Math.max(chord, 1);
      return toPage(place, grid.side, acrossAt(grid, along / length, 2 * share - 1), along);
    });
  const points = [...edge(-1), ...edge(1).reverse()];
  return `<path d="${pathOf(points)}" fill="#ffffff" stroke="${LIGHT_INK}" stroke-width="0.8"/>`;
}

/** Distance from the midline at a share of the length and t across, from the nodes about it. */
export function acrossAt({ rows, columns, acrossMm }: MapGrid, share: number, t: number): number {
  const row = Math.min(rows - 2, Math.max(1, Math.round(share * (rows - 2) + 0.5)));
  const cell = ((t + 1) / 2) * (columns - 2) + 0.5;
  const column = Math.min(columns - 2, Math.max(1, Math.floor(cell)));
  const node = row * columns + column;
  return acrossMm[node]! + (cell - column) * (acrossMm[node + 1]! - acrossMm[node]!);
}
