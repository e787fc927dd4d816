import { rotationOf, type SeatedTree, type Side, thicknessAt } from '@barwright/geometry';
import type { BarView } from '../contract.ts';

const KPA_PER_MPA = 1000;

/** One settled bar as arrays to draw: cells of the underside, and an upper side at the bar's thickness. */
export function viewBar(seated: SeatedTree, side: Side): BarView {
  const { samples, seat, stack, tree } = seated;
  const range = samples.bars[side === 'left' ? 0 : 1];
  const n = range.to - range.from;
  const view = {
    rows: samples.rows,
    columns: samples.columns,
    positions: Float32Array.from(seat.placedMm.subarray(3 * range.from, 3 * range.to)),
    normals: new Float32Array(3 * n),
    gapMm: new Float32Array(n),
    pressureKPa: new Float32Array(n),
    bearing: new Float32Array(n),
    topPositions: new Float32Array(3 * n),
    bMm: Float32Array.from(samples.bMm.subarray(range.from, range.to)),
    t: Float32Array.from(samples.t.subarray(range.from, range.to)),
  };
  turnNormals(samples.normals, range.from, rotationOf(seat.pose), view.normals);
  for (let i = 0; i < n; i++) {
    const k = range.from + i;
    const known = seat.mask[k] === 1;
    view.gapMm[i] = known ? seat.rows.distanceMm[k]! - stack.thicknessMm : Number.NaN;
    view.pressureKPa[i] = known ? seat.pressureMPa[k]! * KPA_PER_MPA : Number.NaN;
    view.bearing[i] = bearingShare(seated, k);
  }
  liftTop(view, (bMm) => thicknessAt(tree[side], bMm));
  return view;
}

function turnNormals(from: Float64Array, first: number, rotation: readonly number[], out: Float32Array): void {
  const [a, b, c, d, e, f, g, h, i] = rotation as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  for (let k = 0; k < out.length; k += 3) {
    const x = from[3 * first + k]!;
    const y = from[3 * first + k + 1]!;
    const z = from[3 * first + k + 2]!;
    out[k] = a * x + b * y + c * z;
    out[k + 1] = d * x + e * y + f * z;
    out[k + 2] = g * x + h * y + i * z;
  }
}

/** Share of a cell that bears: less than 1 in the stirrup slot. Its full area from the spacing of its row's points. */
function bearingShare({ samples }: SeatedTree, k: number): number {
  const stretch = -1 / samples.normals[3 * k + 2]!;
  const column = k % samples.columns;
  const next = column + 1 < samples.columns ? k + 1 : k - 1;
  const dy = Math.abs(samples.pointsMm[3 * next + 1]! - samples.pointsMm[3 * k + 1]!);
  const full = stretch * dy * (samples.lengthMm / samples.rows);
  return full === 0 ? 0 : Math.min(1, samples.areaMm2[k]! / full);
}

/** Rounds the upper side over towards the edges and thins it to the tips, so that it reads as a shaped bar. */
function liftTop(
  view: {
    rows: number;
    columns: number;
    positions: Float32Array;
    normals: Float32Array;
    topPositions: Float32Array;
    bMm: Float32Array;
    t: Float32Array;
  },
  thicknessAt: (bMm: number) => number,
): void {
  for (let r = 0; r < view.rows; r++) {
    const thickness = thicknessAt(view.bMm[r * view.columns]!);
    for (let j = 0; j < view.columns; j++) {
      const k = r * view.columns + j;
      const rounded = thickness * (1 - 0.45 * Math.abs(view.t[k]!) ** 5);
      for (let c = 0; c < 3; c++)
        view.topPositions[3 * k + c] = view.positions[3 * k + c]! - rounded * view.normals[3 * k + c]!;
    }
  }
}
