import { type Chart, chartLattice, createChart } from './chart.ts';
import type { Side } from './distance-field.ts';

/** Height z at y within the row of constant x, NaN where there is no data. Horse frame, mm. */
export type RowHeight = (yMm: number) => number;

export interface HeightChartOptions {
  /** y searched in every row; default: the v range widened by 100 mm both ways. */
  readonly yRangeMm?: readonly [number, number];
}

/** Slope against the chart's plane beyond which the surface counts as folded (PERFORMANCE: about 75 degrees). */
const FOLD_SLOPE = Math.tan((75 * Math.PI) / 180);
const ROOT_TOLERANCE_MM = 1e-9;

/**
 * A chart of a back given as heights: node by node the point of the section curve that lies above the node along the
 * chart's w is found in a bracket. Rows of constant x stay rows, because the tilt turns about x.
 *
 * The section is sampled every cell; a node met by more than one piece of it, or where it runs steeper than 75 degrees
 * against the chart, is given up as folded and counted in `foldedFraction`.
 *
 * `uRangeMm` is a range of x, `vRangeMm` of v = y cos(tilt) -/+ z sin(tilt) (right/left). The grid is snapped to whole
 * cells, so that mirrored ranges give mirrored charts.
 */
export function buildChartFromHeights(
  side: Side,
  tiltRad: number,
  uRangeMm: readonly [number, number],
  vRangeMm: readonly [number, number],
  cellMm: number,
  rowSampler: (xMm: number) => RowHeight,
  options: HeightChartOptions = {},
): Chart {
  const lattice = chartLattice(uRangeMm, vRangeMm, cellMm);
  const { u0Mm, nu, nv } = lattice;
  const heightsMm = new Float64Array(nu * nv);
  const mask = new Uint8Array(nu * nv);
  const [yFrom, yTo] = options.yRangeMm ?? [vRangeMm[0] - 100, vRangeMm[1] + 100];
  const steps = Math.max(2, Math.ceil((yTo - yFrom) / cellMm));
  const section: Section = {
    c: Math.cos(tiltRad),
    s: side === 'right' ? Math.sin(tiltRad) : -Math.sin(tiltRad),
    y: Float64Array.from({ length: steps + 1 }, (_, k) => yFrom + ((yTo - yFrom) * k) / steps),
    v: new Float64Array(steps + 1),
    w: new Float64Array(steps + 1),
  };
  let covered = 0;
  let folded = 0;
  const state = new Uint8Array(nv);
  for (let i = 0; i < nu; i++) {
    const height = rowSampler(u0Mm + i * cellMm);
    sampleSection(section, height);
    const row = heightsMm.subarray(i * nv, (i + 1) * nv);
    fillRow(section, height, lattice, row, state);
    for (let j = 0; j < nv; j++) {
      if (state[j] === NOTHING) continue;
      covered++;
      if (state[j] === FOLDED) folded++;
      else mask[i * nv + j] = 1;
    }
  }
  return createChart({
    side,
    tiltRad,
    ...lattice,
    heightsMm,
    mask,
    foldedFraction: covered === 0 ? 0 : folded / covered,
  });
}

interface Section {
  readonly c: number;
  readonly s: number;
  readonly y: Float64Array;
  readonly v: Float64Array;
  readonly w: Float64Array;
}

const NOTHING = 0;
const SINGLE = 1;
const FOLDED = 2;

function sampleSection(section: Section, height: RowHeight): void {
  const { c, s, y, v, w } = section;
  for (let k = 0; k < y.length; k++) {
    const z = height(y[k]);
    v[k] = c * y[k] - s * z;
    w[k] = s * y[k] + c * z;
  }
}

/** Writes w and a state per node of one row: nothing, a single sheet, or folded. */
function fillRow(
  section: Section,
  height: RowHeight,
  lattice: { v0Mm: number; cellMm: number; nv: number },
  row: Float64Array,
  state: Uint8Array,
): void {
  const { v0Mm, cellMm, nv } = lattice;
  const { v, w } = section;
  state.fill(NOTHING);
  for (let k = 0; k + 1 < v.length; k++) {
    const low = Math.min(v[k], v[k + 1]);
    const high = Math.max(v[k], v[k + 1]);
    if (!(high - low < Number.POSITIVE_INFINITY)) continue;
    const steep = v[k + 1] <= v[k] || Math.abs(w[k + 1] - w[k]) > FOLD_SLOPE * (v[k + 1] - v[k]);
    // Half open, so that a node on a sample is met once; the last sample with data closes its end.
    const first = Math.max(0, Math.ceil((low - v0Mm) / cellMm));
    const closes = Number.isNaN(v[k + 2] ?? Number.NaN);
    for (let j = first; j < nv; j++) {
      const node = v0Mm + j * cellMm;
      if (node > high || (node === high && !closes)) break;
      if (steep || state[j] !== NOTHING) {
        state[j] = FOLDED;
        continue;
      }
      row[j] = heightAbove(section, height, k, node);
      state[j] = Number.isNaN(row[j]) ? NOTHING : SINGLE;
    }
  }
}

/** w of the section at v = node within samples k and k + 1, by bisection-guarded false position (Illinois rule). */
function heightAbove(section: Section, height: RowHeight, k: number, node: number): number {
  const { c, s } = section;
  let y0 = section.y[k];
  let y1 = section.y[k + 1];
  let e0 = section.v[k] - node;
  let e1 = section.v[k + 1] - node;
  if (e0 === 0) return section.w[k];
  if (e1 === 0) return section.w[k + 1];
  let w = Number.NaN;
  for (let step = 0; step < 60; step++) {
    const y = step % 8 === 7 ? 0.5 * (y0 + y1) : (y0 * e1 - y1 * e0) / (e1 - e0);
    const z = height(y);
    const e = c * y - s * z - node;
    w = s * y + c * z;
    if (!(Math.abs(e) > ROOT_TOLERANCE_MM)) return w;
    if (e > 0 === e1 > 0) {
      y1 = y;
      e1 = e;
      e0 *= 0.5;
    } else {
      y0 = y1;
      e0 = e1;
      y1 = y;
      e1 = e;
    }
  }
  return w;
}
