import { treeLengthMm } from '../bar/index.ts';
import type { Side } from '../spatial/index.ts';
import { type Place, probeTree } from './probe-tree.ts';
import type { SeatedTree } from './seat-tree.ts';

/** Curves over the one ruler for one bar: everything against x, mm behind the blade edge. NaN where there is no data. */
export interface BarProfile {
  readonly side: Side;
  readonly bMm: Float64Array;
  readonly xMm: Float64Array;
  /** Clearance of the underside to the layers' top, + clear, - squeeze, on three lines. */
  readonly innerGapMm: Float64Array;
  readonly bearingGapMm: Float64Array;
  readonly outerGapMm: Float64Array;
  /** Height of the bar's bearing line and of the back beneath it, horse frame. */
  readonly barZMm: Float64Array;
  readonly backZMm: Float64Array;
  /** Vertical force per mm of bar, N/mm, one per row of cells. */
  readonly loadAtBMm: Float64Array;
  readonly loadAtXMm: Float64Array;
  readonly loadNPerMm: Float64Array;
}

/** Gap curves on inner, bearing and outer line and the load along the bar, `count` stations from tip to tip. */
export function lengthwiseProfile(seated: SeatedTree, side: Side, count = 113): BarProfile {
  const length = treeLengthMm(seated.tree);
  const bMm = Float64Array.from({ length: count }, (_, i) => 0.5 + ((length - 1) * i) / (count - 1));
  const curve = (across: Place['across']) =>
    probeTree(
      seated.loaded,
      side,
      seated.seat.pose,
      seated.back,
      seated.setup.path,
      Array.from(bMm, (b) => ({ bMm: b, across })),
    );
  const bearing = curve('bearing');
  const gaps = ({ rows }: typeof bearing): Float64Array =>
    rows.distanceMm.map((d, i) => (rows.hasData[i] === 1 ? d - seated.stack.thicknessMm : Number.NaN));
  const pick = (from: Float64Array, axis: number): Float64Array => bMm.map((_, i) => from[3 * i + axis]!);
  return {
    side,
    bMm,
    xMm: pick(bearing.pointsMm, 0),
    innerGapMm: gaps(curve('inner')),
    bearingGapMm: gaps(bearing),
    outerGapMm: gaps(curve('outer')),
    barZMm: pick(bearing.pointsMm, 2),
    backZMm: bMm.map((_, i) => seated.back.heightMm(bearing.pointsMm[3 * i]!, bearing.pointsMm[3 * i + 1]!)),
    ...loadAlong(seated, side),
  };
}

function loadAlong({ samples, seat }: SeatedTree, side: Side) {
  const bar = samples.bars[side === 'left' ? 0 : 1];
  const spacing = samples.lengthMm / samples.rows;
  const loadAtBMm = new Float64Array(samples.rows);
  const loadAtXMm = new Float64Array(samples.rows);
  const loadNPerMm = new Float64Array(samples.rows);
  for (let r = 0; r < samples.rows; r++) {
    const first = bar.from + r * samples.columns;
    loadAtBMm[r] = samples.bMm[first]!;
    loadAtXMm[r] = seat.placedMm[3 * (first + (samples.columns >> 1))]!;
    for (let k = first; k < first + samples.columns; k++) {
      if (seat.mask[k] === 0) continue;
      loadNPerMm[r]! += (seat.pressureMPa[k]! * samples.areaMm2[k]! * seat.rows.normal[3 * k + 2]!) / spacing;
    }
  }
  return { loadAtBMm, loadAtXMm, loadNPerMm };
}
