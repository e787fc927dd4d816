import { cubicSpline } from '../numeric/index.ts';
import { addedAt, addedRow, sideOf } from './section-added.ts';
import { createFall, fallTo, sectionRow } from './section-fall.ts';
import { type SlopeTable, sectionSlopes } from './section-slopes.ts';
import type { SectionsBackDocument } from './sections-schema.ts';
import { createSurfaceJet, type SurfaceJet } from './surface-jet.ts';

/** A back's height as a formula. Rows of constant x share their lengthwise interpolation. */
export interface SectionHeight {
  readonly fromXMm: number;
  readonly toXMm: number;
  readonly edgeYMm: number;
  /** Height along one station plane, NaN outside the data. */
  row(xMm: number): (yMm: number) => number;
  /** Height with derivatives; call only inside the data. */
  jet(xMm: number, yMm: number, out: SurfaceJet): SurfaceJet;
}

/**
 * Builds each section by integrating tan(slope) outward from the midline, slopes linear between knots and splined along
 * the back; the base table is hung at its bearing-line heights, so the midline's height follows. Asymmetry shifts one
 * side's slopes (the midline stays) and lifts it; blade patch and hollow are added along z.
 * @param edges x of the blade edges: 0 standing
 */
export function createSectionHeight(doc: SectionsBackDocument, edges: { left: number; right: number }): SectionHeight {
  const slopes = sectionSlopes(doc);
  const { knotsY } = slopes;
  const hung = cubicSpline(doc.stationsMm, doc.bearingHeightMm);
  const sides = { left: sideOf(doc, 'left', edges.left), right: sideOf(doc, 'right', edges.right) };
  const fromXMm = doc.stationsMm[0]!;
  const toXMm = doc.stationsMm[doc.stationsMm.length - 1]!;
  const [drop, fall] = [createFall(), createFall()];
  const added = createSurfaceJet();
  /** The midline's height with its derivatives. */
  const ridge = new Float64Array(3);

  const hangRidge = (xMm: number, table: SlopeTable): void => {
    fallTo(knotsY, table, doc.bearingLineYMm, drop);
    hung.into(xMm, ridge, 0);
    ridge[0]! += drop.value;
    ridge[1]! += drop.first;
    ridge[2]! += drop.second;
  };

  return {
    fromXMm,
    toXMm,
    edgeYMm: doc.edgeYMm,
    row(xMm) {
      if (!(xMm >= fromXMm && xMm <= toXMm)) return () => Number.NaN;
      const table = slopes.at(xMm);
      hangRidge(xMm, table);
      const top = ridge[0]!;
      const fallOf = (side: (typeof sides)['left']) => sectionRow(knotsY, slopes.shifted(table, side.asymmetry, xMm));
      const [leftFall, rightFall] = [fallOf(sides.left), fallOf(sides.right)];
      const [leftAdded, rightAdded] = [addedRow(sides.left, xMm), addedRow(sides.right, xMm)];
      return (yMm) => {
        const absY = Math.abs(yMm);
        if (absY > doc.edgeYMm) return Number.NaN;
        return yMm < 0 ? top - leftFall(absY) + leftAdded(absY) : top - rightFall(absY) + rightAdded(absY);
      };
    },
    jet(xMm, yMm, out) {
      const side = yMm < 0 ? sides.left : sides.right;
      const sign = yMm < 0 ? -1 : 1;
      const absY = Math.abs(yMm);
      const table = slopes.at(xMm);
      hangRidge(xMm, table);
      fallTo(knotsY, slopes.shifted(table, side.asymmetry, xMm), absY, fall);
      addedAt(side, xMm, absY, added);
      out.z = ridge[0]! - fall.value + added.z;
      out.zx = ridge[1]! - fall.first + added.zx;
      out.zxx = ridge[2]! - fall.second + added.zxx;
      out.zy = sign * (added.zy - fall.tangent);
      out.zxy = sign * (added.zxy - fall.tangentFirst);
      out.zyy = added.zyy - fall.tangentAcross;
      return out;
    },
  };
}
