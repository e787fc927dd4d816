import { type Chain, levelLines, type Rgb, regionRings, toHex } from '@barwright/geometry';
import type { Look } from '../../scene/look-of.ts';
import { SCENE_PALETTES } from '../../scene/palette.ts';
import type { FlatBar } from './flat-bar.ts';

type Point = readonly [number, number];
export type ToPage = (alongMm: number, acrossMm: number) => Point;

export const INK = SCENE_PALETTES.light.ink;
const BANDS = 40;
/** A line shorter than this carries no figure, mm. */
const LEAST_LINE_MM = 45;
/** Figures keep this far from one another. */
const APART_MM = 16;

const n = (v: number): string => v.toFixed(2).replace(/\.?0+$/, '');
const path = (points: readonly Point[]): string => `M${points.map(([x, y]) => `${n(x)} ${n(y)}`).join('L')}`;
const hex = (rgb: Rgb): string => toHex(rgb);

/** One underside as SVG: bands of colour, contour lines with their figures, hatched where there is no data. */
export function drawBar(flat: FlatBar, look: Look, figure: (value: number) => string, toPage: ToPage): string {
  const node = (k: number): Point => toPage(flat.along[k]!, flat.across[k]!);
  const place = ({ nodeA, nodeB, share }: Chain[number]): Point => {
    const [[ax, ay], [bx, by]] = [node(nodeA), node(nodeB)];
    return [ax + share * (bx - ax), ay + share * (by - ay)];
  };
  const { from, to } = look.table;
  const step = (to - from) / BANDS;
  const outline = `${path(outlineOf(flat).map(node))}Z`;
  const parts = [`<path d="${outline}" fill="${hex(look.colourAt(from))}"/>`];
  for (let i = 1; i <= BANDS; i++) {
    const rings = regionRings(flat, from + (i - 0.5) * step);
    if (rings.length === 0) continue;
    const d = rings.map((ring) => `${path(ring.map(place))}Z`).join('');
    parts.push(`<path d="${d}" fill="${hex(look.colourAt(from + i * step))}" fill-rule="evenodd"/>`);
  }
  const missing = missingOf(flat).map((corners) => `${path(corners.map(node))}Z`);
  if (missing.length > 0)
    parts.push(`<path d="${missing.join('')}" fill="#f4eee2"/><path d="${missing.join('')}" fill="url(#no-data)"/>`);
  const taken: Point[] = [];
  const figures: string[] = [];
  for (const { value, isBold } of look.levels) {
    const lines = levelLines(flat, value).map((chain) => chain.map(place));
    if (lines.length === 0) continue;
    parts.push(
      `<path d="${lines.map(path).join('')}" fill="none" stroke="${INK}" stroke-width="${isBold ? 1.4 : 0.5}"/>`,
    );
    for (const line of lines) {
      const at = figurePlace(line, taken);
      if (at === null) continue;
      taken.push(at);
      figures.push(textOn(at, figure(value)));
    }
  }
  return [...parts, `<path d="${outline}" fill="none" stroke="${INK}" stroke-width="0.8"/>`, ...figures].join('');
}

const textOn = ([x, y]: Point, text: string): string =>
  `<text x="${n(x)}" y="${n(y + 2.6)}" font-size="7.5" text-anchor="middle" stroke="#f4eee2" stroke-width="2.4" paint-order="stroke">${text}</text>`;

/** The middle of a line or another place on it that is free; null for short lines. */
function figurePlace(line: readonly Point[], taken: readonly Point[]): Point | null {
  let length = 0;
  for (let i = 1; i < line.length; i++)
    length += Math.hypot(line[i]![0] - line[i - 1]![0], line[i]![1] - line[i - 1]![1]);
  if (length < LEAST_LINE_MM) return null;
  const tries = [0.5, 0.3, 0.7, 0.15, 0.85].map((share) => line[Math.floor(share * (line.length - 1))]!);
  return tries.find(([x, y]) => taken.every(([a, b]) => Math.hypot(x - a, y - b) > APART_MM)) ?? null;
}

function outlineOf({ rows, columns }: FlatBar): number[] {
  const out: number[] = [];
  for (let j = 0; j < columns; j++) out.push(j);
  for (let i = 1; i < rows; i++) out.push(i * columns + columns - 1);
  for (let j = columns - 2; j >= 0; j--) out.push((rows - 1) * columns + j);
  for (let i = rows - 2; i > 0; i--) out.push(i * columns);
  return out;
}

/** Squares of the net with a corner that has no value, joined along each row of the net. */
function missingOf({ rows, columns, values }: FlatBar): number[][] {
  const out: number[][] = [];
  for (let i = 0; i + 1 < rows; i++) {
    let from = -1;
    for (let j = 0; j < columns; j++) {
      const a = i * columns + j;
      const isOpen = j + 1 < columns && [a, a + 1, a + columns, a + columns + 1].some((k) => Number.isNaN(values[k]!));
      if (isOpen && from < 0) from = j;
      if (isOpen || from < 0) continue;
      const [top, bottom] = [i * columns, (i + 1) * columns];
      const across = Array.from({ length: j - from + 1 }, (_, k) => from + k);
      out.push([...across.map((k) => top + k), ...across.reverse().map((k) => bottom + k)]);
      from = -1;
    }
  }
  return out;
}
