import { InputError } from '../numeric/index.ts';

/** Points seen along the up direction: two coordinates across it, the height along it, and the square cells they fall into. */
export interface ProjectedPoints {
  /** 3n values: u, v across, h up, each from the lowest one. */
  readonly uvh: Float64Array;
  readonly side: number;
  readonly columns: number;
  readonly rows: number;
  /** Back to the points' own axes. */
  readonly unproject: (uvh: Float64Array) => Float64Array;
}

/** A grid may have this many cells a point, and some for nothing: more means stray points far away. */
const CELLS_A_POINT = 32;
const FREE_CELLS = 100_000;
const LARGEST = 1e9;

/** @param spacing side of a cell; when undefined twice the points' mean spacing. */
export function projectPoints(
  positions: Float64Array,
  up: readonly [number, number, number],
  spacing: number | undefined,
): ProjectedPoints {
  const count = positions.length / 3;
  if (count < 3) throw refusal('empty', `${count} points`, 'at least three points', 'Scan the back again.');
  const axes = axesAcross(up);
  const { uvh, low, high } = projected(positions, axes);
  const width = high[0] - low[0];
  const length = high[1] - low[1];
  const side = spacing ?? 2 * meanSpacing(uvh, width, length);
  if (!(side > 0 && side <= LARGEST)) {
    const remedy = 'Check the up direction; points in a line or all in one place span no surface.';
    throw refusal('degenerate', `a spacing of ${side}`, 'points that cover an area seen from above', remedy);
  }
  const columns = Math.floor(width / side) + 1;
  const rows = Math.floor(length / side) + 1;
  checkCells(columns * rows, count);
  return { uvh, side, columns, rows, unproject: (flat) => unprojected(flat, axes, low) };
}

type Vector = readonly [number, number, number];

/** Unit vectors u, v, w with w up and u x v = w; u is the file axis that is most nearly level, as far as it can be. */
function axesAcross(up: readonly [number, number, number]): readonly [Vector, Vector, Vector] {
  const length = Math.hypot(...up);
  if (!(length > 0 && Number.isFinite(length))) {
    throw refusal(
      'degenerate',
      `up ${up.join(' ')}`,
      'an up direction that is not zero',
      'Give a direction, such as 0 0 1.',
    );
  }
  const w: Vector = [up[0] / length, up[1] / length, up[2] / length];
  const level = w.map(Math.abs);
  const axis = level.indexOf(Math.min(...level));
  const along = w[axis];
  const raw = w.map((value, k) => (k === axis ? 1 : 0) - along * value);
  const size = Math.hypot(...raw);
  const u: Vector = [raw[0] / size, raw[1] / size, raw[2] / size];
  const v: Vector = [w[1] * u[2] - w[2] * u[1], w[2] * u[0] - w[0] * u[2], w[0] * u[1] - w[1] * u[0]];
  return [u, v, w];
}

function projected(positions: Float64Array, axes: readonly Vector[]) {
  const uvh = new Float64Array(positions.length);
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const axis = axes[k];
      const value = axis[0] * positions[i] + axis[1] * positions[i + 1] + axis[2] * positions[i + 2];
      if (!(Math.abs(value) <= 2 * LARGEST)) {
        throw refusal('not-a-number', `point ${i / 3}: ${value}`, 'finite coordinates', 'Leave invalid points out.');
      }
      uvh[i + k] = value;
      if (value < low[k]) low[k] = value;
      if (value > high[k]) high[k] = value;
    }
  }
  for (let i = 0; i < uvh.length; i++) uvh[i] -= low[i % 3];
  return { uvh, low, high };
}

/** Root of the area that holds points, over their number: measured by coarse cells, then twice by cells that fit the points. */
function meanSpacing(uvh: Float64Array, width: number, length: number): number {
  const count = uvh.length / 3;
  let side = Math.max(width, length) / 64;
  let spacing = 0;
  for (let turn = 0; turn < 3; turn++) {
    if (!(side > 0)) return 0;
    const columns = Math.floor(width / side) + 1;
    const rows = Math.floor(length / side) + 1;
    checkCells(columns * rows, count);
    const seen = new Uint8Array(columns * rows);
    let filled = 0;
    for (let i = 0; i < uvh.length; i += 3) {
      const cell = Math.floor(uvh[i + 1] / side) * columns + Math.floor(uvh[i] / side);
      if (seen[cell] === 0) filled++;
      seen[cell] = 1;
    }
    spacing = Math.sqrt((filled * side * side) / count);
    side = 4 * spacing;
  }
  return spacing;
}

function checkCells(cells: number, count: number): void {
  if (cells <= CELLS_A_POINT * count + FREE_CELLS) return;
  const remedy = 'Crop the scan to the back, or give a larger spacing.';
  throw refusal('inconsistent', `${cells} cells for ${count} points`, 'points near each other', remedy);
}

function unprojected(flat: Float64Array, [u, v, w]: readonly Vector[], low: readonly number[]): Float64Array {
  const out = new Float64Array(flat.length);
  for (let i = 0; i < flat.length; i += 3) {
    const [a, b, c] = [flat[i] + low[0], flat[i + 1] + low[1], flat[i + 2] + low[2]];
    for (let k = 0; k < 3; k++) out[i + k] = a * u[k] + b * v[k] + c * w[k];
  }
  return out;
}

function refusal(
  code: 'empty' | 'degenerate' | 'inconsistent' | 'not-a-number',
  got: string,
  expected: string,
  remedy: string,
) {
  return new InputError({ code, field: 'points', got, expected, remedy });
}
