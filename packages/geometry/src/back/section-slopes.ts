import { type CubicSpline, cubicSpline } from '../numeric/index.ts';
import { plateau } from '../numeric/ramps.ts';
import type { SectionsBackDocument } from './sections-schema.ts';

const RADIANS = Math.PI / 180;

/**
 * Slopes of one station plane at its knots, outward from the midline: value, first and second derivative along the horse,
 * three numbers a knot; radians, mm.
 */
export type SlopeTable = Float64Array;

export interface SectionSlopes {
  /** |y| of the knots: the midline, the table's distances, the edge. mm */
  readonly knotsY: Float64Array;
  /** The table of both sides alike, at x. The same array each time. */
  at(xMm: number): SlopeTable;
  /** One side's own: `table` with the asymmetry of its slopes. The same array each time, or `table` itself. */
  shifted(table: SlopeTable, asymmetry: SectionsBackDocument['asymmetry']['left'], xMm: number): SlopeTable;
}

/** One spline along the back per slope knot: 0 at the midline, the table, the table's last plus the edge's. */
export function sectionSlopes(doc: SectionsBackDocument): SectionSlopes {
  const columns: CubicSpline[] = doc.slopeYMm.map((_, k) =>
    cubicSpline(
      doc.stationsMm,
      doc.slopeDeg.map((row) => row[k]! * RADIANS),
    ),
  );
  const count = columns.length + 2;
  const table = new Float64Array(3 * count);
  const own = new Float64Array(3 * count);
  const edge = 3 * (count - 1);
  return {
    knotsY: Float64Array.of(0, ...doc.slopeYMm, doc.edgeYMm),
    at(xMm) {
      for (let k = 0; k < columns.length; k++) columns[k]!.into(xMm, table, 3 * (k + 1));
      table[edge] = table[edge - 3]! + doc.edgeSlopeAddDeg * RADIANS;
      table[edge + 1] = table[edge - 2]!;
      table[edge + 2] = table[edge - 1]!;
      return table;
    },
    shifted(of, asymmetry, xMm) {
      if (asymmetry === null || asymmetry.slopeDeg === 0) return of;
      const share = plateau(xMm, asymmetry.fromMm, asymmetry.toMm, asymmetry.rampMm);
      const add = asymmetry.slopeDeg * RADIANS;
      own.set(of);
      for (let k = 3; k < own.length; k++) own[k]! += add * share[k % 3]!;
      return own;
    },
  };
}
