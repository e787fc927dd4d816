import { FINDING_WORDS, type FindingCode } from '../findings/index.ts';
import { ellipseScale, furthest, LEAST_RATIO, type Reach, type RuleRatios, ratiosAt } from '../sizing/index.ts';
import { type Chain, levelLines, regionRings, type ValueGrid } from './pressure-map-contours.ts';
import { type LabelPlace, placeLabels } from './pressure-map-labels.ts';
import { ACCENT, INK, PAPER } from './pressure-map-paper.ts';
import { mm, textAt, textWidth } from './pressure-map-text.ts';
import { isDarkReach, REACH_LEVELS, REACH_LINES, reachFill, reachStepOf } from './reach-map-scale.ts';

/** Where the map lies on the page. Slope runs to the right, sag upwards. */
export interface ReachFrame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export type ToPage = (slopeDeg: number, sagMm: number) => readonly [number, number];

export function toPage(reach: Reach, { x, y, width, height }: ReachFrame): ToPage {
  const [slopeEnd, sagEnd] = [reach.slopesDeg.at(-1)!, reach.sagsMm.at(-1)!];
  return (slopeDeg, sagMm) => [
    x + (width * (slopeDeg + slopeEnd)) / (2 * slopeEnd),
    y + (height * (sagEnd - sagMm)) / (2 * sagEnd),
  ];
}

/** The map between its nodes: finer, so that borders between findings come out straight. */
interface FineGrid extends ValueGrid {
  readonly codes: readonly (FindingCode | null)[];
  readonly ratios: readonly RuleRatios[];
  readonly places: readonly (readonly [number, number])[];
}

/** Steps between two nodes. */
const FINER = 4;

function fineGrid(reach: Reach, page: ToPage): FineGrid {
  const count = FINER * (reach.slopesDeg.length - 1) + 1;
  const [slopeEnd, sagEnd] = [reach.slopesDeg.at(-1)!, reach.sagsMm.at(-1)!];
  const values = new Float64Array(count * count);
  const codes: (FindingCode | null)[] = [];
  const all: RuleRatios[] = [];
  const places: (readonly [number, number])[] = [];
  for (let k = 0; k < count * count; k++) {
    const step = {
      slopeDeg: slopeEnd * ((2 * (k % count)) / (count - 1) - 1),
      sagMm: sagEnd * ((2 * Math.floor(k / count)) / (count - 1) - 1),
    };
    const ratios = ratiosAt(reach, step);
    const worst = ratios === null ? null : furthest(ratios);
    values[k] = ratios === null ? Number.NaN : (worst?.ratio ?? LEAST_RATIO);
    codes.push(worst?.code ?? null);
    all.push(ratios ?? {});
    places.push(page(step.slopeDeg, step.sagMm));
  }
  return { rows: count, columns: count, values, codes, ratios: all, places };
}

/** Steps of colour, contour lines, borders and names of findings, the region without any, and the measured back in it. */
export function drawReachField(reach: Reach, frame: ReachFrame): string {
  const page = toPage(reach, frame);
  const grid = fineGrid(reach, page);
  const taken = takenByHere(reach, page);
  const names = zoneNames(grid, frame, taken);
  return [
    ...fills(grid),
    borders(grid),
    ...contours(grid, taken),
    freeBorder(grid),
    rigidLines(reach, page),
    unknown(grid),
    ...names,
    drawHere(reach, page, frame),
    `<rect x="${mm(frame.x)}" y="${mm(frame.y)}" width="${mm(frame.width)}" height="${mm(frame.height)}" fill="none" stroke="${INK}" stroke-width="1.2"/>`,
  ].join('\n');
}

const inkOn = (ratio: number): { colour?: string } => (isDarkReach(ratio) ? { colour: PAPER } : {});

/** The ellipse with its name, and the ring. */
function takenByHere(reach: Reach, page: ToPage): LabelPlace[] {
  const { slopeSdDeg, sagSdMm, confidence } = reach.error;
  const [x, y] = page(0, 0);
  const [right, top] = page(ellipseScale(confidence) * slopeSdDeg, ellipseScale(confidence) * sagSdMm);
  const places: LabelPlace[] = [];
  for (let dy = top - y; dy <= y - top; dy += 8) places.push({ x, y: y + dy, radius: right - x });
  for (let dx = -48; dx <= 48; dx += 12) places.push({ x: x + dx, y: top - 11, radius: 9 });
  const mark = reach.nearest ?? reach.least;
  if (mark !== null) {
    const [mx, my] = page(mark.slopeDeg, mark.sagMm);
    places.push({ x: mx, y: my, radius: 12 });
  }
  return places;
}

function fills(grid: FineGrid): string[] {
  return REACH_LEVELS.map((level, i) => {
    const data = pathsOf(grid, regionRings(grid, level), true);
    return data === '' ? '' : `<path d="${data}" fill="${reachFill(i + 1)}" fill-rule="evenodd"/>`;
  });
}

/** Where one finding takes over from another as the furthest over its rule. */
function borders(grid: FineGrid): string {
  const kinds = [...new Set(grid.codes)].filter((code) => code !== null);
  const data = kinds.map((code) => {
    const values = grid.values.map((value, k) => (value > 1 ? leadOf(grid.ratios[k]!, code) : Number.NaN));
    return pathsOf(grid, levelLines({ ...grid, values }, 0), false);
  });
  return `<path d="${data.join('')}" fill="none" stroke="${PAPER}" stroke-width="1.8"/>`;
}

/** How far one finding is ahead of all others. */
function leadOf(ratios: RuleRatios, code: FindingCode): number {
  const { [code]: own = LEAST_RATIO, ...others } = ratios;
  return own - (furthest(others)?.ratio ?? LEAST_RATIO);
}

function contours(grid: FineGrid, taken: LabelPlace[]): string[] {
  const lines = REACH_LINES.flatMap((level) =>
    levelLines(grid, level).map((chain) => ({ level, points: pointsOf(grid, chain) })),
  );
  const drawn = lines.map(
    ({ level, points }) =>
      `<path d="${linePath(points)}" fill="none" stroke="${isDarkReach(level) ? PAPER : INK}" stroke-opacity="0.6" stroke-width="0.7"/>`,
  );
  const labels = placeLabels(lines, taken).map(({ x, y, level, text }) =>
    textAt(x, y + 3.4, text, { size: 10, anchor: 'middle', halo: reachFill(reachStepOf(level)), ...inkOn(level) }),
  );
  return [...drawn, ...labels];
}

/** Heavy line around what has no finding; where the map has none there is no line. */
function freeBorder(grid: FineGrid): string {
  const data = pathsOf(grid, levelLines(grid, 1), false);
  return data === '' ? '' : `<path d="${data}" fill="none" stroke="${INK}" stroke-width="2.4"/>`;
}

/** The same contours of the tree with rigid bars, dashed. */
function rigidLines(reach: Reach, page: ToPage): string {
  if (reach.rigid === null) return '';
  const grid = fineGrid({ ...reach, nodes: reach.rigid.nodes }, page);
  const dashed = (level: number, width: number): string => {
    const data = pathsOf(grid, levelLines(grid, level), false);
    if (data === '') return '';
    return `<path d="${data}" fill="none" stroke="${ACCENT}" stroke-width="${width}" stroke-dasharray="5 3"/>`;
  };
  return [...REACH_LINES.map((level) => dashed(level, 0.9)), dashed(1, 2)].join('');
}

function unknown({ rows, columns, values, places }: FineGrid): string {
  const squares: string[] = [];
  for (let i = 0; i < rows - 1; i++) {
    for (let j = 0; j < columns - 1; j++) {
      const node = i * columns + j;
      const corners = [node, node + 1, node + columns + 1, node + columns];
      if (corners.some((k) => Number.isNaN(values[k]!))) squares.push(`${linePath(corners.map((k) => places[k]!))}Z`);
    }
  }
  return squares.length === 0 ? '' : `<path d="${squares.join('')}" fill="url(#no-data)"/>`;
}

const NAME_SIZE = 12.5;
/** Fewer fine nodes than this carry no name. */
const LEAST_ZONE = 24;

/** The name of each connected zone where there is most room for it. Names take their places from the contour figures. */
function zoneNames(grid: FineGrid, frame: ReachFrame, taken: LabelPlace[]): string[] {
  const out: string[] = [];
  for (const zone of zonesOf(grid)) {
    if (zone.length < LEAST_ZONE) continue;
    const first = zone[0]!;
    const isFree = grid.values[first]! <= 1;
    const text = isFree ? 'no finding' : grid.codes[first] === null ? '' : FINDING_WORDS[grid.codes[first]!];
    const half = textWidth(text, NAME_SIZE) / 2;
    const place = roomiest(grid, zone, half, frame, taken);
    if (place === null || text === '') continue;
    const [x, y] = grid.places[place]!;
    for (let dx = -half; dx <= half; dx += 12) taken.push({ x: x + dx, y, radius: 9 });
    const value = grid.values[place]!;
    const halo = reachFill(reachStepOf(value));
    out.push(textAt(x, y + 4, text, { size: NAME_SIZE, anchor: 'middle', bold: true, halo, ...inkOn(value) }));
  }
  return out;
}

/** Zones of one finding, or of none, joined through sides of cells; largest first. */
function zonesOf({ rows, columns, values, codes }: FineGrid): number[][] {
  const keyOf = (k: number): string => (Number.isNaN(values[k]!) ? '' : values[k]! <= 1 ? 'free' : String(codes[k]));
  const seen = new Set<number>();
  const zones: number[][] = [];
  for (let from = 0; from < rows * columns; from++) {
    if (seen.has(from) || keyOf(from) === '') continue;
    const zone = [from];
    seen.add(from);
    for (const k of zone) {
      const c = k % columns;
      const next = [k - columns, k + columns, ...(c > 0 ? [k - 1] : []), ...(c < columns - 1 ? [k + 1] : [])];
      for (const n of next) {
        if (n < 0 || n >= rows * columns || seen.has(n) || keyOf(n) !== keyOf(from)) continue;
        seen.add(n);
        zone.push(n);
      }
    }
    zones.push(zone);
  }
  return zones.sort((a, b) => b.length - a.length);
}

/** The node of a zone furthest from what isn't it, sideways counted by the name's width; null without room. */
function roomiest(
  grid: FineGrid,
  zone: readonly number[],
  half: number,
  frame: ReachFrame,
  taken: readonly LabelPlace[],
): number | null {
  const own = new Set(zone);
  const others = grid.places.filter((_, k) => !own.has(k));
  const wide = (half + 8) / 16;
  let best: number | null = null;
  let most = 0;
  for (const k of zone) {
    const [x, y] = grid.places[k]!;
    if (taken.some((p) => Math.hypot(Math.max(0, Math.abs(p.x - x) - half), p.y - y) < p.radius + 10)) continue;
    const edges = [
      (x - frame.x - 4) / wide,
      (frame.x + frame.width - x - 4) / wide,
      y - frame.y,
      frame.y + frame.height - y,
    ];
    let room = Math.min(...edges);
    for (const [ox, oy] of others) room = Math.min(room, Math.hypot((ox - x) / wide, oy - y));
    if (room > most) [best, most] = [k, room];
  }
  return most >= 9 ? best : null;
}

/** The measured back with its ellipse, and the place without findings that is nearest to it. */
function drawHere(reach: Reach, page: ToPage, frame: ReachFrame): string {
  const { slopeSdDeg, sagSdMm, confidence } = reach.error;
  const [x, y] = page(0, 0);
  const scale = ellipseScale(confidence);
  const [right, top] = page(scale * slopeSdDeg, scale * sagSdMm);
  const halo = reachFill(reach.here.ratio === null ? 0 : reachStepOf(reach.here.ratio));
  const named = { size: 11, anchor: 'middle', halo, colour: ACCENT } as const;
  const parts = [
    `<ellipse cx="${mm(x)}" cy="${mm(y)}" rx="${mm(right - x)}" ry="${mm(y - top)}" fill="${ACCENT}" fill-opacity="0.1" stroke="${ACCENT}" stroke-width="1.4"/>`,
    `<path d="M${mm(x - 7)} ${mm(y)}h14M${mm(x)} ${mm(y - 7)}v14" stroke="${ACCENT}" stroke-width="2"/>`,
    textAt(x, top - 7, `${reach.back} as measured`, { ...named, bold: true }),
  ];
  const { nearest, least } = reach;
  const mark = nearest ?? least;
  if (mark === null || (mark.slopeDeg === 0 && mark.sagMm === 0)) return parts.join('');
  const [mx, my] = page(mark.slopeDeg, mark.sagMm);
  const ring = `<circle cx="${mm(mx)}" cy="${mm(my)}" r="4.5" fill="none" stroke="${ACCENT}" stroke-width="1.6"/>`;
  if (nearest !== null) return [...parts, ring].join('');
  const side = mx >= x && mx < frame.x + frame.width - 70 ? 'start' : 'end';
  const about = { ...named, size: 10, anchor: side, halo: reachFill(reachStepOf(least!.ratio)) } as const;
  parts.push(ring, textAt(mx + (side === 'start' ? 9 : -9), my + 3.5, `least ${least!.ratio.toFixed(2)}`, about));
  return parts.join('');
}

function pointsOf({ places }: FineGrid, chain: Chain): (readonly [number, number])[] {
  return chain.map(({ nodeA, nodeB, share }) => {
    const [a, b] = [places[nodeA]!, places[nodeB]!];
    return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
  });
}

const pathsOf = (grid: FineGrid, chains: readonly Chain[], isClosed: boolean): string =>
  chains.map((chain) => `${linePath(pointsOf(grid, chain))}${isClosed ? 'Z' : ''}`).join('');

const linePath = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${mm(x)} ${mm(y)}`).join('');
