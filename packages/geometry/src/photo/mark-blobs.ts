import { DisjointSets } from '../surface/disjoint-sets.ts';
import type { GreyImage, PixelPoint } from './grey-image.ts';

/** A connected dark patch: bounding box in whole pixels, pixels it has, and its convex hull clockwise as seen. */
export interface Blob {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pixels: number;
  readonly hull: readonly PixelPoint[];
}

export interface BlobOptions {
  /** Side of the square that a pixel is compared with, px. */
  readonly windowPx: number;
  /** A pixel is dark below this share of the mean about it. */
  readonly darkShare: number;
  readonly leastPx: number;
  readonly mostPx: number;
}

/** Runs of dark pixels in a row; flat lists for speed. */
interface Runs {
  readonly row: number[];
  readonly from: number[];
  readonly to: number[];
}

/**
 * Dark patches by a threshold that follows the light: the mean of a square about each pixel, from sums over rectangles
 * (Bradley & Roth 2007, adaptive thresholding using the integral image, from memory); neighbours by side only.
 */
export function darkBlobs(image: GreyImage, options: BlobOptions): Blob[] {
  const runs = darkRuns(image, options);
  const sets = joinRuns(runs);
  const members = new Map<number, number[]>();
  const boxes = new Map<number, [number, number, number, number, number]>();
  for (let i = 0; i < runs.row.length; i++) {
    const root = sets.find(i);
    const box = boxes.get(root);
    const [from, to, row] = [runs.from[i]!, runs.to[i]!, runs.row[i]!];
    if (box === undefined) {
      boxes.set(root, [from, to, row, row + 1, to - from]);
      members.set(root, [i]);
      continue;
    }
    box[0] = Math.min(box[0], from);
    box[1] = Math.max(box[1], to);
    box[3] = row + 1;
    box[4] += to - from;
    members.get(root)!.push(i);
  }
  const blobs: Blob[] = [];
  for (const [root, [left, right, top, bottom, pixels]] of boxes) {
    const [widthPx, heightPx] = [right - left, bottom - top];
    const least = Math.min(widthPx, heightPx);
    if (least < options.leastPx || Math.max(widthPx, heightPx) > options.mostPx) continue;
    blobs.push({ widthPx, heightPx, pixels, hull: hullOf(members.get(root)!, runs) });
  }
  return blobs;
}

function darkRuns({ width, height, grey }: GreyImage, { windowPx, darkShare }: BlobOptions): Runs {
  const stride = width + 1;
  // Modular sums: differences of four stay right while a window holds less than 2^32, 16 million white pixels.
  const sums = new Uint32Array(stride * (height + 1));
  for (let y = 0; y < height; y++) {
    let row = 0;
    for (let x = 0; x < width; x++) {
      row += grey[y * width + x]!;
      sums[(y + 1) * stride + x + 1] = (sums[y * stride + x + 1]! + row) >>> 0;
    }
  }
  const half = Math.max(2, Math.floor(windowPx / 2));
  const runs: Runs = { row: [], from: [], to: [] };
  for (let y = 0; y < height; y++) {
    const [y0, y1] = [Math.max(0, y - half), Math.min(height, y + half + 1)];
    let start = -1;
    for (let x = 0; x < width; x++) {
      const x0 = x < half ? 0 : x - half;
      const x1 = x + half + 1 > width ? width : x + half + 1;
      const sum =
        (sums[y1 * stride + x1]! - sums[y0 * stride + x1]! - sums[y1 * stride + x0]! + sums[y0 * stride + x0]!) >>> 0;
      const isDark = grey[y * width + x]! * (x1 - x0) * (y1 - y0) < darkShare * sum;
      if (isDark && start < 0) start = x;
      if (!isDark && start >= 0) {
        addRun(runs, y, start, x);
        start = -1;
      }
    }
    if (start >= 0) addRun(runs, y, start, width);
  }
  return runs;
}

function addRun(runs: Runs, row: number, from: number, to: number): void {
  runs.row.push(row);
  runs.from.push(from);
  runs.to.push(to);
}

function joinRuns({ row, from, to }: Runs): DisjointSets {
  const sets = new DisjointSets(row.length);
  let before = 0;
  for (let i = 0; i < row.length; i++) {
    while (before < i && (row[before]! < row[i]! - 1 || (row[before]! === row[i]! - 1 && to[before]! <= from[i]!))) {
      before++;
    }
    for (let k = before; k < i && row[k]! === row[i]! - 1 && from[k]! < to[i]!; k++) sets.join(i, k);
  }
  return sets;
}

const turn = (a: PixelPoint, b: PixelPoint, c: PixelPoint): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** Convex hull of the pixels' corners, Andrew's monotone chain by rows (from memory), clockwise in a picture. */
function hullOf(members: readonly number[], runs: Runs): PixelPoint[] {
  const left = new Map<number, number>();
  const right = new Map<number, number>();
  for (const i of members) {
    for (const y of [runs.row[i]!, runs.row[i]! + 1]) {
      left.set(y, Math.min(left.get(y) ?? Number.POSITIVE_INFINITY, runs.from[i]!));
      right.set(y, Math.max(right.get(y) ?? Number.NEGATIVE_INFINITY, runs.to[i]!));
    }
  }
  const rows = [...left.keys()].sort((a, b) => a - b);
  const chain = (points: readonly PixelPoint[]): PixelPoint[] => {
    const out: PixelPoint[] = [];
    for (const p of points) {
      while (out.length > 1 && turn(out[out.length - 2]!, out[out.length - 1]!, p) <= 0) out.pop();
      out.push(p);
    }
    return out;
  };
  const down = chain(rows.map((y): PixelPoint => [right.get(y)!, y]));
  const up = chain([...rows].reverse().map((y): PixelPoint => [left.get(y)!, y]));
  return [...down, ...up];
}
