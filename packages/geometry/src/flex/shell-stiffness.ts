import {
  addToBand,
  type BandMatrix,
  createBand,
  createSplineRow,
  evaluateSplines,
  gaussLegendre,
  SPLINE_ORDER,
} from '../numeric/index.ts';
import type { LayupAt } from './plies.ts';
import { sectionAt } from './shell-section.ts';
import { createStrainRows, LOCAL_DOFS, type ShellPatch, strainRowsAt } from './shell-strains.ts';

/** Quadrature along and across one piece: exact enough for cubics on a smooth surface. */
const THREE = gaussLegendre(3);
const TWO = gaussLegendre(2);
/** Places beyond the outline keep this share of stiffness, so that no unknown hangs free. */
const OUTSIDE = 1e-4;

/**
 * Stiffness of a shell, N/mm, in the order of its unknowns. Two places along a piece instead of three are a third quicker
 * and up to 3 % softer; two across miss where rounded tips end (17 % at their corners).
 */
export function assembleShell(patch: ShellPatch, layupAt: LayupAt, pointsAlong: 2 | 3 = 3): BandMatrix {
  const band = createBand(patch.dofs, patch.halfWidth);
  const local = new Float64Array(LOCAL_DOFS * LOCAL_DOFS);
  const strains = createStrainRows();
  const stress = new Float64Array(6 * LOCAL_DOFS);
  const section = new Float64Array(36);
  const { along, across } = patch;
  for (let i = 1; i < along.breaks.length; i++) {
    for (let k = 1; k < across.breaks.length; k++) {
      local.fill(0);
      const places = placesBetween(along.breaks[i - 1]!, along.breaks[i]!, pointsAlong === 2 ? TWO : THREE);
      for (const [b, wb] of places) {
        forEachPoint(across.breaks[k - 1]!, across.breaks[k]!, (tau, wt) => {
          strainRowsAt(patch, b, tau, strains);
          const weight = wb * wt * strains.frame.area * (strains.jet.inside ? 1 : OUTSIDE);
          stressRows(sectionAt(strains.frame, layupAt(b, tau), section), strains.rows, weight, stress);
          addProducts(strains.rows, stress, local);
        });
      }
      scatter(local, strains.along.first, strains.across.first, across.count, band);
    }
  }
  return band;
}

/** Quadrature over an interval. */
export function forEachPoint(from: number, to: number, at: (x: number, weight: number) => void): void {
  for (const [x, weight] of placesBetween(from, to, THREE)) at(x, weight);
}

const placesBetween = (from: number, to: number, rule: typeof THREE): [place: number, weight: number][] =>
  Array.from(rule.nodes, (node, i) => [from + node * (to - from), rule.weights[i]! * (to - from)]);

/** Section forces per unit displacement: the 6 x 6 section times the strain rows, times the weight. */
function stressRows(section: Float64Array, rows: Float64Array, weight: number, out: Float64Array): void {
  const n = LOCAL_DOFS;
  for (let r = 0; r < 6; r++) {
    const at = 6 * r;
    const [c0, c1, c2] = [weight * section[at]!, weight * section[at + 1]!, weight * section[at + 2]!];
    const [c3, c4, c5] = [weight * section[at + 3]!, weight * section[at + 4]!, weight * section[at + 5]!];
    for (let i = 0; i < n; i++) {
      out[r * n + i] =
        c0 * rows[i]! +
        c1 * rows[n + i]! +
        c2 * rows[2 * n + i]! +
        c3 * rows[3 * n + i]! +
        c4 * rows[4 * n + i]! +
        c5 * rows[5 * n + i]!;
    }
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
          addSpring(patch, band, b, tau, perMm2 * wb * wt * strainRowsAt(patch, b, tau, strains).frame.area);
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
