import { plateau } from '../numeric/ramps.ts';
import { type BladeBulge, bladeBulgeAt, bulgeReaches } from './blade-bulge.ts';
import type { SectionsBackDocument } from './sections-schema.ts';
import { addProduct, clearJet, type SurfaceJet } from './surface-jet.ts';

/** What one side of a back has beside its table of slopes. */
export interface SideShape {
  readonly bulge: BladeBulge;
  readonly hollow: SectionsBackDocument['hollow']['left'];
  readonly asymmetry: SectionsBackDocument['asymmetry']['left'];
  readonly bearingLineYMm: number;
}

export function sideOf(doc: SectionsBackDocument, side: 'left' | 'right', edgeXMm: number): SideShape {
  return {
    bulge: { heightMm: doc.bladeBulge[side].heightMm, edgeXMm },
    hollow: doc.hollow[side],
    asymmetry: doc.asymmetry[side],
    bearingLineYMm: doc.bearingLineYMm,
  };
}

/** Blade patch, lift and hollow over |y| in one plane, the same heights as addedAt. */
export function addedRow(side: SideShape, xMm: number): (absYMm: number) => number {
  const { bulge, asymmetry: a, hollow, bearingLineYMm: line } = side;
  const patch = bulge.heightMm === 0 ? 0 : bladeBulgeAt(bulge, xMm, 0).along[0];
  const lift = a === null || a.liftMm === 0 ? 0 : a.liftMm * plateau(xMm, a.fromMm, a.toMm, a.rampMm)[0];
  const left = hollow === null ? 0 : 1 - ((xMm - hollow.centreXMm) / hollow.radiusXMm) ** 2;
  return (absY) => {
    let z = 0;
    if (patch !== 0) z += patch * bladeBulgeAt(bulge, xMm, absY).across[0];
    if (lift !== 0) z += lift * plateau(absY, line, Number.POSITIVE_INFINITY, line)[0];
    if (left <= 0 || hollow === null) return z;
    const q = left - ((absY - hollow.centreYMm) / hollow.radiusYMm) ** 2;
    return q > 0 ? z - hollow.depthMm * q * q * q : z;
  };
}

/** Blade patch, hollow and lift together, derivatives with respect to x and |y|. */
export function addedAt(side: SideShape, xMm: number, absYMm: number, out: SurfaceJet): SurfaceJet {
  clearJet(out);
  if (bulgeReaches(side.bulge, xMm, absYMm)) {
    const { along, across } = bladeBulgeAt(side.bulge, xMm, absYMm);
    addProduct(out, along, across);
  }
  if (side.asymmetry !== null && side.asymmetry.liftMm !== 0) {
    const a = side.asymmetry;
    const across = plateau(absYMm, side.bearingLineYMm, Number.POSITIVE_INFINITY, side.bearingLineYMm);
    addProduct(out, plateau(xMm, a.fromMm, a.toMm, a.rampMm), across, a.liftMm);
  }
  if (side.hollow !== null) addHollow(out, side.hollow, xMm, absYMm);
  return out;
}

/** -depth (1 - r^2)^3, r^2 the squared distance in units of the radii: C2 at its rim. */
function addHollow(out: SurfaceJet, hollow: NonNullable<SideShape['hollow']>, xMm: number, absYMm: number): void {
  const px = (xMm - hollow.centreXMm) / hollow.radiusXMm;
  const py = (absYMm - hollow.centreYMm) / hollow.radiusYMm;
  const q = 1 - px * px - py * py;
  if (q <= 0) return;
  const d = -hollow.depthMm;
  const qx = (-2 * px) / hollow.radiusXMm;
  const qy = (-2 * py) / hollow.radiusYMm;
  out.z += d * q * q * q;
  out.zx += 3 * d * q * q * qx;
  out.zy += 3 * d * q * q * qy;
  out.zxx += d * (6 * q * qx * qx - (6 * q * q) / hollow.radiusXMm ** 2);
  out.zxy += 6 * d * q * qx * qy;
  out.zyy += d * (6 * q * qy * qy - (6 * q * q) / hollow.radiusYMm ** 2);
}
