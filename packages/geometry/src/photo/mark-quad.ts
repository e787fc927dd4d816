import { MARK_CELLS } from '../drawing/index.ts';
import { type GreyImage, greyAt, type PixelPoint } from './grey-image.ts';
import type { Blob } from './mark-blobs.ts';

export type Quad = readonly [PixelPoint, PixelPoint, PixelPoint, PixelPoint];

/** A frame covers 32 of its 81 cells; wide bounds for blur and shade. */
const COVER = { least: 0.22, most: 0.68 };
/** The hull of a foreshortened square is its own four corners, but for pixel steps, which count for more on a small one. */
const HULL_SHARE = { least: 0.86, most: 1.12, stepsPx: 4 };

const cross = (a: PixelPoint, b: PixelPoint, c: PixelPoint): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

const areaOf = (points: readonly PixelPoint[]): number => {
  let twice = 0;
  for (const [i, p] of points.entries()) {
    const q = points[(i + 1) % points.length]!;
    twice += p[0] * q[1] - p[1] * q[0];
  }
  return twice / 2;
};

/** Four corners of a blob that may be a mark's frame, clockwise as seen, to a pixel or so; null where it can't be one. */
export function quadOfBlob({ hull, pixels }: Blob): Quad | null {
  if (hull.length < 4) return null;
  const cx = hull.reduce((sum, p) => sum + p[0], 0) / hull.length;
  const cy = hull.reduce((sum, p) => sum + p[1], 0) / hull.length;
  const first = farthest(hull, (p) => Math.hypot(p[0] - cx, p[1] - cy));
  const third = farthest(hull, (p) => Math.hypot(p[0] - first[0], p[1] - first[1]));
  // Clockwise in a picture, y down: the second corner lies to the right of the way from first to third.
  const second = farthest(hull, (p) => -cross(first, third, p));
  const fourth = farthest(hull, (p) => cross(first, third, p));
  const quad: Quad = [first, second, third, fourth];
  const area = areaOf(quad);
  if (!(area > 0)) return null;
  const share = areaOf(hull) / area;
  if (share < HULL_SHARE.least || share > HULL_SHARE.most + HULL_SHARE.stepsPx / Math.sqrt(area)) return null;
  const cover = pixels / area;
  if (cover < COVER.least || cover > COVER.most) return null;
  const sides = quad.map((p, i) => Math.hypot(p[0] - quad[(i + 1) % 4]![0], p[1] - quad[(i + 1) % 4]![1]));
  return Math.min(...sides) > 0.25 * Math.max(...sides) ? quad : null;
}

function farthest(points: readonly PixelPoint[], measure: (p: PixelPoint) => number): PixelPoint {
  let best = points[0]!;
  let most = Number.NEGATIVE_INFINITY;
  for (const p of points) {
    const value = measure(p);
    if (value <= most) continue;
    most = value;
    best = p;
  }
  return best;
}

interface Line {
  readonly point: PixelPoint;
  readonly direction: PixelPoint;
  /** Standard deviation of the line's place, px. */
  readonly sdPx: number;
}

/**
 * The same corners to a small part of a pixel: along each side the steepest places of the grey across it, a straight
 * line through them, corners where the lines meet. Null where a side can't be seen.
 */
export function refineQuad(image: GreyImage, quad: Quad): { quad: Quad; sdPx: number } | null {
  let now = quad;
  let sdPx = 0;
  for (let round = 0; round < 2; round++) {
    const lines: Line[] = [];
    for (let i = 0; i < 4; i++) {
      const line = lineOnSide(image, now[i]!, now[(i + 1) % 4]!);
      if (line === null) return null;
      lines.push(line);
    }
    const corners = lines.map((line, i) => meeting(lines[(i + 3) % 4]!, line));
    if (corners.some((p, i) => p === null || Math.hypot(p[0] - now[i]![0], p[1] - now[i]![1]) > sideOf(quad) / 6)) {
      return null;
    }
    now = corners as unknown as Quad;
    sdPx = Math.max(...lines.map((line) => line.sdPx));
  }
  return { quad: now, sdPx };
}

const sideOf = (quad: Quad): number => Math.sqrt(Math.abs(areaOf(quad)));

function lineOnSide(image: GreyImage, a: PixelPoint, b: PixelPoint): Line | null {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length < 6) return null;
  const [tx, ty] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  // Clockwise as seen, so outward is to the left of the way, y down.
  const [nx, ny] = [ty, -tx];
  const reach = Math.max(1.5, (0.62 * length) / MARK_CELLS);
  const count = Math.max(10, Math.min(80, Math.round(length / 1.2)));
  const found: PixelPoint[] = [];
  for (let k = 0; k < count; k++) {
    const t = length * (0.1 + (0.8 * (k + 0.5)) / count);
    const offset = edgeOffset(image, [a[0] + t * tx, a[1] + t * ty], [nx, ny], reach);
    if (offset !== null) found.push([a[0] + t * tx + offset * nx, a[1] + t * ty + offset * ny]);
  }
  if (found.length < 0.6 * count) return null;
  return fitLine(found);
}

/** Centre of the rise from dark (inside) to light (outside), px from the point; null without a clear one. */
function edgeOffset(image: GreyImage, [x, y]: PixelPoint, [nx, ny]: PixelPoint, reach: number): number | null {
  const step = 0.25;
  let centre = 0;
  for (let round = 0; round < 2; round++) {
    let weight = 0;
    let sum = 0;
    let rise = 0;
    const from = Math.round((centre - reach) / step);
    const to = Math.round((centre + reach) / step);
    let before = greyAt(image, x + from * step * nx, y + from * step * ny);
    for (let k = from + 1; k <= to; k++) {
      const here = greyAt(image, x + k * step * nx, y + k * step * ny);
      const climb = Math.max(0, here - before);
      before = here;
      weight += climb * climb;
      sum += climb * climb * (k - 0.5) * step;
      rise += climb;
    }
    if (rise < 16) return null;
    centre = sum / weight;
    if (Math.abs(centre) > reach) return null;
  }
  return centre;
}

/** Least squares at right angles, twice: points that lie off by more than 2.5 times the spread are left out. */
function fitLine(points: readonly PixelPoint[]): Line | null {
  let used = points;
  let line = throughMoments(used);
  const away = (p: PixelPoint): number =>
    Math.abs((p[0] - line.point[0]) * line.direction[1] - (p[1] - line.point[1]) * line.direction[0]);
  const limit = Math.max(0.15, 2.5 * spreadOf(used.map(away)));
  used = points.filter((p) => away(p) <= limit);
  if (used.length < 6) return null;
  line = throughMoments(used);
  const rms = Math.sqrt(used.reduce((sum, p) => sum + away(p) ** 2, 0) / used.length);
  // Neighbouring places share pixels: about a third of them are independent. The line is read at its end, twice as uncertain.
  return { ...line, sdPx: (2 * rms) / Math.sqrt(used.length / 3) };
}

const spreadOf = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return 1.4826 * sorted[Math.floor(sorted.length / 2)]!;
};

function throughMoments(points: readonly PixelPoint[]): { point: PixelPoint; direction: PixelPoint } {
  const n = points.length;
  const mx = points.reduce((sum, p) => sum + p[0], 0) / n;
  const my = points.reduce((sum, p) => sum + p[1], 0) / n;
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of points) {
    xx += (x - mx) ** 2;
    xy += (x - mx) * (y - my);
    yy += (y - my) ** 2;
  }
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  return { point: [mx, my], direction: [Math.cos(angle), Math.sin(angle)] };
}

function meeting(a: Line, b: Line): PixelPoint | null {
  const det = a.direction[0] * b.direction[1] - a.direction[1] * b.direction[0];
  if (Math.abs(det) < 0.1) return null;
  const [dx, dy] = [b.point[0] - a.point[0], b.point[1] - a.point[1]];
  const t = (dx * b.direction[1] - dy * b.direction[0]) / det;
  return [a.point[0] + t * a.direction[0], a.point[1] + t * a.direction[1]];
}
