import { type Curve1, cubicSpline, gaussLegendre, type Jet1 } from '../numeric/index.ts';
import { plateau } from '../numeric/ramps.ts';
import { type BladeBulge, bladeBulgeAt } from './blade-bulge.ts';
import type { SectionsBackDocument } from './sections-schema.ts';

/** Height over (x, y) with first and second derivatives, horse frame, mm. */
export interface SurfaceJet {
  z: number;
  zx: number;
  zy: number;
  zxx: number;
  zxy: number;
  zyy: number;
}

export const createSurfaceJet = (): SurfaceJet => ({ z: 0, zx: 0, zy: 0, zxx: 0, zxy: 0, zyy: 0 });

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

type SideName = 'left' | 'right';
const RULE = gaussLegendre(4);
const RADIANS = Math.PI / 180;

/**
 * Builds each section by integrating tan(slope) outward from the midline, slopes linear between knots and splined along
 * the back; the base table is hung at its bearing-line heights, so the midline's height follows. Asymmetry shifts one
 * side's slopes (the midline stays) and lifts it; blade patch and hollow are added along z.
 * @param edges x of the blade edges: 0 standing
 */
export function createSectionHeight(doc: SectionsBackDocument, edges: { left: number; right: number }): SectionHeight {
  const knotsY = [0, ...doc.slopeYMm, doc.edgeYMm];
  const slopes = lengthwiseSlopes(doc);
  const hung = cubicSpline(doc.stationsMm, doc.bearingHeightMm);
  const sides = { left: sideOf(doc, 'left', edges.left), right: sideOf(doc, 'right', edges.right) };
  const fromXMm = doc.stationsMm[0]!;
  const toXMm = doc.stationsMm[doc.stationsMm.length - 1]!;

  const slopesAt = (xMm: number): Jet1[] => slopes.map((curve) => curve.at(xMm));
  const ridgeAt = (xMm: number, table: readonly Jet1[]): Jet1 => {
    const drop = integrateTan(knotsY, table, doc.bearingLineYMm);
    const base = hung.at(xMm);
    return [base[0] + drop.value, base[1] + drop.first, base[2] + drop.second];
  };

  return {
    fromXMm,
    toXMm,
    edgeYMm: doc.edgeYMm,
    row(xMm) {
      if (!(xMm >= fromXMm && xMm <= toXMm)) return () => Number.NaN;
      const table = slopesAt(xMm);
      const ridge = ridgeAt(xMm, table)[0];
      const rows = {
        left: sectionRow(knotsY, shifted(table, sides.left, xMm)),
        right: sectionRow(knotsY, shifted(table, sides.right, xMm)),
      };
      const added = { left: addedRow(sides.left, xMm), right: addedRow(sides.right, xMm) };
      return (yMm) => {
        const side: SideName = yMm < 0 ? 'left' : 'right';
        const absY = Math.abs(yMm);
        if (absY > doc.edgeYMm) return Number.NaN;
        return ridge - rows[side](absY) + added[side](absY);
      };
    },
    jet(xMm, yMm, out) {
      const side = yMm < 0 ? sides.left : sides.right;
      const sign = yMm < 0 ? -1 : 1;
      const absY = Math.abs(yMm);
      const table = slopesAt(xMm);
      const ridge = ridgeAt(xMm, table);
      const fall = integrateTan(knotsY, shifted(table, side, xMm), absY);
      const added = addedAt(side, xMm, absY);
      out.z = ridge[0] - fall.value + added.z;
      out.zx = ridge[1] - fall.first + added.zx;
      out.zxx = ridge[2] - fall.second + added.zxx;
      out.zy = sign * (added.zy - fall.tangent);
      out.zxy = sign * (added.zxy - fall.tangentFirst);
      out.zyy = added.zyy - fall.tangentAcross;
      return out;
    },
  };
}

interface SideShape {
  readonly bulge: BladeBulge;
  readonly hollow: SectionsBackDocument['hollow']['left'];
  readonly asymmetry: SectionsBackDocument['asymmetry']['left'];
  readonly bearingLineYMm: number;
}

function sideOf(doc: SectionsBackDocument, side: SideName, edgeXMm: number): SideShape {
  return {
    bulge: { heightMm: doc.bladeBulge[side].heightMm, edgeXMm },
    hollow: doc.hollow[side],
    asymmetry: doc.asymmetry[side],
    bearingLineYMm: doc.bearingLineYMm,
  };
}

/** One spline along the back per slope knot, radians: 0 at the midline, the table, the table's last plus the edge's. */
function lengthwiseSlopes(doc: SectionsBackDocument): Curve1[] {
  const columns = doc.slopeYMm.map((_, k) =>
    cubicSpline(
      doc.stationsMm,
      doc.slopeDeg.map((row) => row[k]! * RADIANS),
    ),
  );
  const last = columns[columns.length - 1]!;
  const edge: Curve1 = {
    at: (x) => {
      const [value, first, second] = last.at(x);
      return [value + doc.edgeSlopeAddDeg * RADIANS, first, second];
    },
  };
  return [{ at: () => [0, 0, 0] }, ...columns, edge];
}

function shifted(table: readonly Jet1[], side: SideShape, xMm: number): Jet1[] {
  const a = side.asymmetry;
  if (a === null || a.slopeDeg === 0) return [...table];
  const share = plateau(xMm, a.fromMm, a.toMm, a.rampMm);
  const add = a.slopeDeg * RADIANS;
  return table.map((j, k) => (k === 0 ? j : [j[0] + add * share[0], j[1] + add * share[1], j[2] + add * share[2]]));
}

/** Fall below the midline as a function of |y| in one plane: closed form, -ln cos over each linear stretch. */
function sectionRow(knotsY: readonly number[], table: readonly Jet1[]): (absYMm: number) => number {
  const last = knotsY.length - 2;
  const knots = Float64Array.from(knotsY);
  const slopes = Float64Array.from(table, (jet) => jet[0]);
  const rates = new Float64Array(last + 1);
  const logs = slopes.map((slope) => Math.log(Math.cos(slope)));
  const falls = new Float64Array(last + 2);
  const stretch = (i: number, y: number): number => {
    const run = y - knots[i]!;
    const turn = rates[i]! * run;
    if (Math.abs(turn) < 1e-4) return gentleFall(slopes[i]!, turn, run);
    return (logs[i]! - Math.log(Math.cos(slopes[i]! + turn))) / rates[i]!;
  };
  for (let i = 0; i <= last; i++) {
    rates[i] = (slopes[i + 1]! - slopes[i]!) / (knots[i + 1]! - knots[i]!);
    falls[i + 1] = falls[i]! + stretch(i, knots[i + 1]!);
  }
  return (absY) => {
    let i = 0;
    while (i < last && knots[i + 1]! <= absY) i++;
    return falls[i]! + stretch(i, absY);
  };
}

/** The same for a small turn, by Taylor: run (tan b + turn tan' / 2 + turn^2 tan'' / 6); the next term is below 1e-10 mm for 1e-4. */
function gentleFall(slope: number, turn: number, run: number): number {
  const tan = Math.tan(slope);
  const first = 1 + tan * tan;
  return run * (tan + turn * (first / 2 + (turn * tan * first) / 3));
}

interface Fall {
  value: number;
  first: number;
  second: number;
  tangent: number;
  tangentFirst: number;
  tangentAcross: number;
}

/** Integral of tan(slope) from the midline to |y|, with x derivatives (first, second) and the integrand's at |y|. */
function integrateTan(knotsY: readonly number[], table: readonly Jet1[], absYMm: number): Fall {
  const out: Fall = { value: 0, first: 0, second: 0, tangent: 0, tangentFirst: 0, tangentAcross: 0 };
  let tan = Math.tan(table[0]![0]);
  for (let i = 0; i + 1 < knotsY.length; i++) {
    const y0 = knotsY[i]!;
    const tanBefore = tan;
    const span = knotsY[i + 1]! - y0;
    const isLast = absYMm <= knotsY[i + 1]! || i + 2 === knotsY.length;
    const share = isLast ? (absYMm - y0) / span : 1;
    const end = mix(table[i]!, table[i + 1]!, share);
    tan = Math.tan(end[0]);
    const turn = table[i + 1]![0] - table[i]![0];
    if (Math.abs(turn) < GENTLE_TURN_RAD) addGentle(out, table[i]!, table[i + 1]!, share, span);
    else addStretch(out, table[i]!, end, tanBefore, tan, share, turn, span);
    if (!isLast) continue;
    out.tangent = tan;
    out.tangentFirst = (1 + tan * tan) * end[1];
    out.tangentAcross = ((1 + tan * tan) * turn) / span;
    break;
  }
  return out;
}

/** Below this turn within a stretch the closed forms divide by too little, and four Gauss nodes are exact to rounding. */
const GENTLE_TURN_RAD = 0.05;

/**
 * Closed forms over one stretch, slope b = b0 + turn s, integrating by parts: I0 = int tan b = ln(cos b0 / cos b) / turn,
 * 1 / cos^2 = 1 + tan^2,
 * I1 = int sec2(b) b' = ([tan b b'] - D' I0) / turn, and the second derivative likewise; ' is d/dx, D' the turn's.
 */
function addStretch(
  out: Fall,
  start: Jet1,
  end: Jet1,
  tan0: number,
  tanEnd: number,
  share: number,
  turn: number,
  span: number,
): void {
  if (share === 0) return;
  const [, p0, q0] = start;
  const [, p, q] = end;
  const turnFirst = (p - p0) / share;
  const turnSecond = (q - q0) / share;
  const i0 = (0.5 * Math.log((1 + tanEnd * tanEnd) / (1 + tan0 * tan0))) / turn;
  const i1 = (tanEnd * p - tan0 * p0 - turnFirst * i0) / turn;
  const ends = tanEnd * q - tan0 * q0 + (tanEnd * p) ** 2 - (tan0 * p0) ** 2;
  out.value += span * i0;
  out.first += span * i1;
  out.second += (span * (ends - turnSecond * i0 - 2 * turnFirst * (i1 - (share * (p0 + p)) / 2))) / turn;
}

function addGentle(out: Fall, start: Jet1, end: Jet1, share: number, span: number): void {
  for (let q = 0; q < RULE.nodes.length; q++) {
    const w = RULE.weights[q]! * share * span;
    const [b, bx, bxx] = mix(start, end, RULE.nodes[q]! * share);
    const tan = Math.tan(b);
    const sec2 = 1 + tan * tan;
    out.value += w * tan;
    out.first += w * sec2 * bx;
    out.second += w * sec2 * (bxx + 2 * tan * bx * bx);
  }
}

function mix(a: Jet1, b: Jet1, share: number): Jet1 {
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2])];
}

/** Blade patch, lift and hollow over |y| in one plane, the same heights as addedAt. */
function addedRow(side: SideShape, xMm: number): (absYMm: number) => number {
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
function addedAt(side: SideShape, xMm: number, absYMm: number): SurfaceJet {
  const out = createSurfaceJet();
  if (side.bulge.heightMm !== 0) {
    const { along, across } = bladeBulgeAt(side.bulge, xMm, absYMm);
    addProduct(out, along, across, 1);
  }
  if (side.asymmetry !== null && side.asymmetry.liftMm !== 0) {
    const a = side.asymmetry;
    const across = plateau(absYMm, side.bearingLineYMm, Number.POSITIVE_INFINITY, side.bearingLineYMm);
    addProduct(out, plateau(xMm, a.fromMm, a.toMm, a.rampMm), across, a.liftMm);
  }
  if (side.hollow !== null) addHollow(out, side.hollow, xMm, absYMm);
  return out;
}

function addProduct(out: SurfaceJet, along: Jet1, across: Jet1, scale: number): void {
  out.z += scale * along[0] * across[0];
  out.zx += scale * along[1] * across[0];
  out.zy += scale * along[0] * across[1];
  out.zxx += scale * along[2] * across[0];
  out.zxy += scale * along[1] * across[1];
  out.zyy += scale * along[0] * across[2];
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
