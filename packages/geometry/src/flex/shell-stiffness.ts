import {
  addToBand,
  type BandMatrix,
  createBand,
  createSplineRow,
  evaluateSplines,
  gaussLegendre,
  SPLINE_ORDER,
} from '../numeric/index.ts';
import type { Laminate } from './laminate.ts';
import { createStrainRows, LOCAL_DOFS, type ShellPatch, strainRowsAt } from './shell-strains.ts';

/** Quadrature along and across one piece: exact enough for cubics on a smooth surface. */
const POINTS = 3;
const RULE = gaussLegendre(POINTS);
/** Places beyond the outline keep this share of stiffness, so that no unknown hangs free. */
const OUTSIDE = 1e-4;

/** Stiffness of a shell, N/mm, in the order of its unknowns. */
export function assembleShell(patch: ShellPatch, laminateAt: (bMm: number) => Laminate): BandMatrix {
  const band = createBand(patch.dofs, patch.halfWidth);
  const local = new Float64Array(LOCAL_DOFS * LOCAL_DOFS);
  const strains = createStrainRows();
  const stress = new Float64Array(6 * LOCAL_DOFS);
  const { along, across } = patch;
  for (let i = 1; i < along.breaks.length; i++) {
    for (let k = 1; k < across.breaks.length; k++) {
      local.fill(0);
      forEachPoint(along.breaks[i - 1]!, along.breaks[i]!, (b, wb) => {
        const section = laminateAt(b);
        forEachPoint(across.breaks[k - 1]!, across.breaks[k]!, (tau, wt) => {
          strainRowsAt(patch, b, tau, strains);
          const weight = wb * wt * strains.area * (strains.jet.inside ? 1 : OUTSIDE);
          stressRows(section, strains.rows, weight, stress);
          addProducts(strains.rows, stress, local);
        });
      });
      scatter(local, strains.along.first, strains.across.first, across.count, band);
    }
  }
  return band;
}

/** Quadrature over an interval. */
export function forEachPoint(from: number, to: number, at: (x: number, weight: number) => void): void {
  for (let i = 0; i < POINTS; i++) at(from + RULE.nodes[i]! * (to - from), RULE.weights[i]! * (to - from));
}

/** Section forces per unit displacement: [A B; B D] times the strain rows, times the weight. */
export function stressRows({ a, b, d }: Laminate, rows: Float64Array, weight: number, out: Float64Array): void {
  const n = LOCAL_DOFS;
  const [a11, a12, a22, a66] = [weight * a[0]!, weight * a[1]!, weight * a[2]!, weight * a[3]!];
  const [b11, b12, b22, b66] = [weight * b[0]!, weight * b[1]!, weight * b[2]!, weight * b[3]!];
  const [d11, d12, d22, d66] = [weight * d[0]!, weight * d[1]!, weight * d[2]!, weight * d[3]!];
  for (let i = 0; i < n; i++) {
    const [e1, e2, e3] = [rows[i]!, rows[n + i]!, rows[2 * n + i]!];
    const [k1, k2, k3] = [rows[3 * n + i]!, rows[4 * n + i]!, rows[5 * n + i]!];
    out[i] = a11 * e1 + a12 * e2 + b11 * k1 + b12 * k2;
    out[n + i] = a12 * e1 + a22 * e2 + b12 * k1 + b22 * k2;
    out[2 * n + i] = a66 * e3 + b66 * k3;
    out[3 * n + i] = b11 * e1 + b12 * e2 + d11 * k1 + d12 * k2;
    out[4 * n + i] = b12 * e1 + b22 * e2 + d12 * k1 + d22 * k2;
    out[5 * n + i] = b66 * e3 + d66 * k3;
  }
}

/** local += rows^T stress, lower half. */
function addProducts(rows: Float64Array, stress: Float64Array, local: Float64Array): void {
  const n = LOCAL_DOFS;
  for (let i = 0; i < n; i++) {
    const [r0, r1, r2] = [rows[i]!, rows[n + i]!, rows[2 * n + i]!];
    const [r3, r4, r5] = [rows[3 * n + i]!, rows[4 * n + i]!, rows[5 * n + i]!];
    const at = i * n;
    for (let j = 0; j <= i; j++) {
      local[at + j]! +=
        r0 * stress[j]! +
        r1 * stress[n + j]! +
        r2 * stress[2 * n + j]! +
        r3 * stress[3 * n + j]! +
        r4 * stress[4 * n + j]! +
        r5 * stress[5 * n + j]!;
    }
  }
}

function scatter(local: Float64Array, firstB: number, firstT: number, countT: number, band: BandMatrix): void {
  const place = (l: number): number => {
    const point = Math.floor(l / 3);
    return 3 * ((firstB + Math.floor(point / SPLINE_ORDER)) * countT + firstT + (point % SPLINE_ORDER)) + (l % 3);
  };
  const places = Int32Array.from({ length: LOCAL_DOFS }, (_, l) => place(l));
  for (let i = 0; i < LOCAL_DOFS; i++) {
    for (let j = 0; j <= i; j++) addToBand(band, places[i]!, places[j]!, local[i * LOCAL_DOFS + j]!);
  }
}

/** A spring alike in all three directions between one place of the shell and the ground, N/mm. */
export function addSpring(patch: ShellPatch, band: BandMatrix, bMm: number, tau: number, stiffness: number): void {
  const sb = evaluateSplines(patch.along, bMm, createSplineRow());
  const st = evaluateSplines(patch.across, tau, createSplineRow());
  const values = Float64Array.from({ length: 16 }, (_, k) => sb.value[k >> 2]! * st.value[k & 3]!);
  const point = (k: number): number => (sb.first + (k >> 2)) * patch.across.count + st.first + (k & 3);
  for (let k = 0; k < 16; k++) {
    for (let l = 0; l <= k; l++) {
      const value = stiffness * values[k]! * values[l]!;
      for (let a = 0; a < 3; a++) addToBand(band, 3 * point(k) + a, 3 * point(l) + a, value);
    }
  }
}

/** Springs spread over a strip of the whole width, N/mm per mm2: a foot that holds it. */
export function addBed(patch: ShellPatch, band: BandMatrix, fromMm: number, toMm: number, perMm2: number): void {
  const strains = createStrainRows();
  const pieces = cutAt(patch.along.breaks, fromMm, toMm);
  for (let i = 1; i < pieces.length; i++) {
    for (let k = 1; k < patch.across.breaks.length; k++) {
      forEachPoint(pieces[i - 1]!, pieces[i]!, (b, wb) =>
        forEachPoint(patch.across.breaks[k - 1]!, patch.across.breaks[k]!, (tau, wt) => {
          addSpring(patch, band, b, tau, perMm2 * wb * wt * strainRowsAt(patch, b, tau, strains).area);
        }),
      );
    }
  }
}

/** Springs along the line tau = constant, N/mm per mm of length: a ground seat's hold. */
export function addRail(
  patch: ShellPatch,
  band: BandMatrix,
  fromMm: number,
  toMm: number,
  tau: number,
  perMm: number,
): void {
  const strains = createStrainRows();
  const pieces = cutAt(patch.along.breaks, fromMm, toMm);
  for (let i = 1; i < pieces.length; i++) {
    forEachPoint(pieces[i - 1]!, pieces[i]!, (b, weight) => {
      const { rb } = strainRowsAt(patch, b, tau, strains).jet;
      addSpring(patch, band, b, tau, perMm * weight * Math.hypot(rb[0]!, rb[1]!, rb[2]!));
    });
  }
}

function cutAt(breaks: readonly number[], from: number, to: number): number[] {
  return [from, ...breaks.filter((x) => x > from && x < to), to];
}
