import { rotationOf, type SeatedTree, type Side, squeezeByLayer, thicknessAt } from '@barwright/geometry';
import type { BarView, LayerView } from '../contract.ts';

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
    giveMm: new Float32Array(n),
    thicknessMm: Float32Array.from({ length: n }, (_, i) => thicknessAt(tree[side], samples.bMm[range.from + i]!)),
    bentMm: seated.flex === null ? null : new Float32Array(3 * n),
    feet: Float32Array.from(seat.rows.footMm.subarray(3 * range.from, 3 * range.to)),
    backNormals: Float32Array.from(seat.rows.normal.subarray(3 * range.from, 3 * range.to)),
    layers: stack.parts.map(
      ({ layer, thicknessMm }): LayerView => ({ name: layer.name, thicknessMm, squeezeMm: new Float32Array(n) }),
    ),
  };
  const rotation = rotationOf(seat.pose);
  turn(samples.normals, range.from, rotation, view.normals);
  if (view.bentMm !== null) {
    turn(seated.flex!.seat.movedMm, range.from, rotation, view.bentMm);
    for (let i = 0; i < n; i++) view.giveMm[i] = -dotAt(view.bentMm, view.normals, 3 * i);
  }
  for (let i = 0; i < n; i++) {
    const k = range.from + i;
    const known = seat.mask[k] === 1;
    view.gapMm[i] = known ? seat.rows.distanceMm[k]! - stack.thicknessMm : Number.NaN;
    view.pressureKPa[i] = known ? seat.pressureMPa[k]! * KPA_PER_MPA : Number.NaN;
    view.bearing[i] = bearingShare(seated, k);
    shareSqueeze(seated, view.pressureKPa[i]!, view.layers, i);
  }
  liftTop(view);
  return view;
}

/** Layers in series lie under one pressure, and each gives by its own law. */
function shareSqueeze({ stack }: SeatedTree, kPa: number, layers: readonly LayerView[], i: number): void {
  if (kPa === 0) return;
  const squeezed = Number.isNaN(kPa) ? null : squeezeByLayer(stack, kPa);
  for (let l = 0; l < layers.length; l++) layers[l]!.squeezeMm[i] = squeezed === null ? Number.NaN : squeezed[l]!;
}

const dotAt = (a: Float32Array, b: Float32Array, k: number): number =>
  a[k]! * b[k]! + a[k + 1]! * b[k + 1]! + a[k + 2]! * b[k + 2]!;

/** Directions of the bar's frame in the horse's. */
function turn(from: Float64Array, first: number, rotation: readonly number[], out: Float32Array): void {
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
function liftTop(view: BarView): void {
  for (let k = 0; k < view.t.length; k++) {
    const rounded = view.thicknessMm[k]! * (1 - 0.45 * Math.abs(view.t[k]!) ** 5);
    for (let c = 3 * k; c < 3 * k + 3; c++) view.topPositions[c] = view.positions[c]! - rounded * view.normals[c]!;
  }
}
