import type { CutBar, CutView } from '../contract.ts';

/** A true-scale window on a crosswise plane: the same pixels per mm both ways. y to the horse's right, z up. */
export interface CutWindow {
  readonly pxPerMm: number;
  toX(yMm: number): number;
  toY(zMm: number): number;
}

type Bounds = { low: number; high: number };

/** Fits back and bars into the drawing at one scale for both directions. null when there is nothing to draw. */
export function cutWindow(cut: CutView, widthPx: number, heightPx: number, edgePx: number): CutWindow | null {
  const lines = [cut.back, ...bars(cut).flatMap((bar) => [bar.underside, bar.top])];
  const y = bounds(lines, 0);
  const z = bounds(lines, 1);
  if (y === null || z === null) return null;
  const half = Math.max(Math.abs(y.low), Math.abs(y.high), 150);
  const pxPerMm = Math.min((widthPx - 2 * edgePx) / (2 * half), (heightPx - 2 * edgePx) / Math.max(1, z.high - z.low));
  const middle = (z.low + z.high) / 2;
  return {
    pxPerMm,
    toX: (yMm) => widthPx / 2 + yMm * pxPerMm,
    toY: (zMm) => heightPx / 2 - (zMm - middle) * pxPerMm,
  };
}

export const bars = (cut: CutView): CutBar[] => [cut.left, cut.right].filter((bar) => bar !== null);

function bounds(lines: readonly Float32Array[], part: 0 | 1): Bounds | null {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const line of lines)
    for (let i = 0; i < line.length; i += 2) {
      if (Number.isNaN(line[i]!) || Number.isNaN(line[i + 1]!)) continue;
      low = Math.min(low, line[i + part]!);
      high = Math.max(high, line[i + part]!);
    }
  return low > high ? null : { low, high };
}

/** SVG path of a y, z polyline, broken where there is no data. */
export function cutPath(line: Float32Array, window: CutWindow): string {
  let path = '';
  let isDown = false;
  for (let i = 0; i < line.length; i += 2) {
    if (Number.isNaN(line[i + 1]!)) {
      isDown = false;
      continue;
    }
    path += `${isDown ? 'L' : 'M'}${window.toX(line[i]!).toFixed(2)} ${window.toY(line[i + 1]!).toFixed(2)}`;
    isDown = true;
  }
  return path;
}

/** Underside and upper side closed to a body. */
export function bodyPath(bar: CutBar, window: CutWindow): string {
  const back: number[] = [];
  for (let i = bar.top.length - 2; i >= 0; i -= 2) back.push(bar.top[i]!, bar.top[i + 1]!);
  const ring = [...bar.underside, ...back];
  return `${cutPath(Float32Array.from(ring), window)}Z`;
}

/** Stretches of y without a back under them, mm: outside first and last, and holes between. */
export function missingStretches(back: Float32Array): [number, number][] {
  const out: [number, number][] = [];
  let from: number | null = null;
  for (let i = 0; i < back.length; i += 2) {
    const missing = Number.isNaN(back[i + 1]!);
    if (missing && from === null) from = back[i]!;
    if (!missing && from !== null) {
      out.push([from, back[i]!]);
      from = null;
    }
  }
  if (from !== null) out.push([from, back[back.length - 2]!]);
  return out;
}

/** The stations of a pattern one goes through with previous and next: the nearest before or after a place, or null. */
export function neighbourStation(stationsXMm: readonly number[], xMm: number, direction: 1 | -1): number | null {
  const beyond = stationsXMm.filter((x) => direction * (x - xMm) > 0.5).sort((a, b) => direction * (a - b));
  return beyond[0] ?? null;
}

/** The back raised along its own normal in the plane, z up: where the uncompressed layers end. NaN where it is NaN. */
export function raisedLine(back: Float32Array, byMm: number): Float32Array {
  const out = new Float32Array(back.length);
  const last = back.length - 2;
  for (let i = 0; i <= last; i += 2) {
    const before = Math.max(0, i - 2);
    const after = Math.min(last, i + 2);
    const dy = back[after]! - back[before]!;
    const dz = back[after + 1]! - back[before + 1]!;
    const length = Math.hypot(dy, dz);
    out[i] = back[i]! - (byMm * dz) / length;
    out[i + 1] = back[i + 1]! + (byMm * dy) / length;
  }
  return out;
}
