import type { LayerStack } from '../layers/index.ts';
import type { FootRows } from '../spatial/distance-field.ts';
import type { ContactBody } from './contact-energy.ts';
import type { Pose } from './pose.ts';
import { type PressedCells, pressCells } from './press-cells.ts';

/** What pressed cells add up to, before the pose's leaning axes come in. N, mm. */
export interface CellSums {
  /** sum F g: force and moment about the pose's origin, horse axes. */
  readonly wrench: Float64Array;
  /** 6 x 6: sum of area k g g^T - F J^T H_d J, k the layers' tangent. */
  readonly stiffness: Float64Array;
  /** 3 x 3: sum of F n r^T. */
  readonly lever: Float64Array;
  pressedCells: number;
  energy: number;
}

/**
 * Sums force, moment and stiffness over the pressed cells whose mask is 1, g = (n, r x n) about the pose's origin.
 * `pressed`: the law's answers for these rows, where they are known already.
 */
export function sumCells(
  body: ContactBody,
  placed: Float64Array,
  rows: FootRows,
  mask: Uint8Array,
  stack: LayerStack,
  pose: Pose,
  pressed?: PressedCells,
): CellSums {
  const all = new Float64Array(53);
  const { linear } = stack.law;
  const curved = linear === null ? (pressed ?? pressCells(stack, rows.distanceMm, mask)) : null;
  addPressedCells(
    body.count,
    body.areaMm2,
    placed,
    rows.distanceMm,
    rows.normal,
    rows.hessian,
    mask,
    linear ?? 0,
    curved?.pressureMPa ?? NONE,
    curved?.tangent ?? NONE,
    curved?.energy ?? NONE,
    stack.thicknessMm,
    pose.xMm,
    pose.yMm,
    pose.zMm,
    all,
  );
  return {
    wrench: all.subarray(2, 8),
    stiffness: all.subarray(8, 44),
    lever: all.subarray(44, 53),
    pressedCells: all[0]!,
    energy: all[1]!,
  };
}

const NONE = new Float64Array(0);

/**
 * One long function on purpose: forty sums in registers, once per pressed cell and pass. k is the one stiffness of linear
 * layers; where it is 0, pressure, tangent and energy are given cell by cell. It takes arrays and numbers only, because compiled code that has seen the shape of a short-lived object is thrown away with that object.
 */
function addPressedCells(
  count: number,
  areaMm2: Float64Array,
  placed: Float64Array,
  distanceMm: Float64Array,
  normal: Float64Array,
  hessian: Float64Array,
  mask: Uint8Array,
  k: number,
  pressure: Float64Array,
  tangent: Float64Array,
  stored: Float64Array,
  t0: number,
  ox: number,
  oy: number,
  oz: number,
  all: Float64Array,
): void {
  let pressed = 0;
  let energy = 0;
  let w0 = 0;
  let w1 = 0;
  let w2 = 0;
  let w3 = 0;
  let w4 = 0;
  let w5 = 0;
  let s00 = 0;
  let s01 = 0;
  let s02 = 0;
  let s03 = 0;
  let s04 = 0;
  let s05 = 0;
  let s11 = 0;
  let s12 = 0;
  let s13 = 0;
  let s14 = 0;
  let s15 = 0;
  let s22 = 0;
  let s23 = 0;
  let s24 = 0;
  let s25 = 0;
  let s33 = 0;
  let s34 = 0;
  let s35 = 0;
  let s44 = 0;
  let s45 = 0;
  let s55 = 0;
  let l00 = 0;
  let l01 = 0;
  let l02 = 0;
  let l10 = 0;
  let l11 = 0;
  let l12 = 0;
  let l20 = 0;
  let l21 = 0;
  let l22 = 0;
  for (let i = 0; i < count; i++) {
    if (mask[i] === 0) continue;
    const c = t0 - distanceMm[i]!;
    if (!(c > 0)) continue;
    pressed++;
    const j = 3 * i;
    const h = 6 * i;
    const area = areaMm2[i]!;
    let kA: number;
    let f: number;
    if (k > 0) {
      kA = area * k;
      f = kA * c;
      energy += 0.5 * f * c;
    } else {
      kA = area * tangent[i]!;
      f = area * pressure[i]!;
      energy += area * stored[i]!;
    }
    const nx = normal[j]!;
    const ny = normal[j + 1]!;
    const nz = normal[j + 2]!;
    const rx = placed[j]! - ox;
    const ry = placed[j + 1]! - oy;
    const rz = placed[j + 2]! - oz;
    const mx = ry * nz - rz * ny;
    const my = rz * nx - rx * nz;
    const mz = rx * ny - ry * nx;
    // F H_d.
    const hxx = f * hessian[h]!;
    const hxy = f * hessian[h + 1]!;
    const hxz = f * hessian[h + 2]!;
    const hyy = f * hessian[h + 3]!;
    const hyz = f * hessian[h + 4]!;
    const hzz = f * hessian[h + 5]!;
    // F H_d (e_b x r), one column per turn about x, y, z.
    const b00 = ry * hxz - rz * hxy;
    const b10 = ry * hyz - rz * hyy;
    const b20 = ry * hzz - rz * hyz;
    const b01 = rz * hxx - rx * hxz;
    const b11 = rz * hxy - rx * hyz;
    const b21 = rz * hxz - rx * hzz;
    const b02 = rx * hxy - ry * hxx;
    const b12 = rx * hyy - ry * hxy;
    const b22 = rx * hyz - ry * hxz;
    const kx = kA * nx;
    const ky = kA * ny;
    const kz = kA * nz;
    s00 += kx * nx - hxx;
    s01 += kx * ny - hxy;
    s02 += kx * nz - hxz;
    s03 += kx * mx - b00;
    s04 += kx * my - b01;
    s05 += kx * mz - b02;
    s11 += ky * ny - hyy;
    s12 += ky * nz - hyz;
    s13 += ky * mx - b10;
    s14 += ky * my - b11;
    s15 += ky * mz - b12;
    s22 += kz * nz - hzz;
    s23 += kz * mx - b20;
    s24 += kz * my - b21;
    s25 += kz * mz - b22;
    const kmx = kA * mx;
    const kmy = kA * my;
    s33 += kmx * mx - (ry * b20 - rz * b10);
    s34 += kmx * my - (ry * b21 - rz * b11);
    s35 += kmx * mz - (ry * b22 - rz * b12);
    s44 += kmy * my - (rz * b01 - rx * b21);
    s45 += kmy * mz - (rz * b02 - rx * b22);
    s55 += kA * mz * mz - (rx * b12 - ry * b02);
    const fx = f * nx;
    const fy = f * ny;
    const fz = f * nz;
    w0 += fx;
    w1 += fy;
    w2 += fz;
    w3 += f * mx;
    w4 += f * my;
    w5 += f * mz;
    l00 += fx * rx;
    l01 += fx * ry;
    l02 += fx * rz;
    l10 += fy * rx;
    l11 += fy * ry;
    l12 += fy * rz;
    l20 += fz * rx;
    l21 += fz * ry;
    l22 += fz * rz;
  }
  all[0] = pressed;
  all[1] = energy;
  // biome-ignore format: force and moment, a symmetric matrix, a matrix
  const sums = [
    w0, w1, w2, w3, w4, w5,
    s00, s01, s02, s03, s04, s05,
    s01, s11, s12, s13, s14, s15,
    s02, s12, s22, s23, s24, s25,
    s03, s13, s23, s33, s34, s35,
    s04, s14, s24, s34, s44, s45,
    s05, s15, s25, s35, s45, s55,
    l00, l01, l02, l10, l11, l12, l20, l21, l22,
  ];
  all.set(sums, 2);
}
