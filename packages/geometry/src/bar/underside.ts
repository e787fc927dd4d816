import { gaussLegendre, InputError } from '../numeric/index.ts';
import type { BarShape } from './bar-shape.ts';
import { createStationRows, type StationRow } from './station-row.ts';

/** Height of the underside over (b, y) with first and second derivatives. mm. */
export interface HeightJet {
  z: number;
  zb: number;
  zy: number;
  zbb: number;
  zby: number;
  zyy: number;
}

/** The underside of a right-hand bar as a height field z(b, y), y > 0 outward, bar frame except that b counts from the tip. */
export interface Underside {
  readonly shape: BarShape;
  /** The bar that was made, where this is one with something laid under it or taken off in thought: its strength is that bar's. */
  readonly asMade?: Underside;
  row(bMm: number): StationRow;
  /**
   * Fills `out` with the height and its derivatives at outward distance y in the row's station plane.
   * `bare` leaves flare and relief out, as rock, angle and crown are measured.
   */
  heightJet(row: StationRow, yMm: number, out: HeightJet, bare?: boolean): HeightJet;
}

const RULE = gaussLegendre(8);
/** Steepest tangent a section may have: beyond it the underside stops being a height field in practice. */
const STEEPEST_SINE = Math.sin((85 * Math.PI) / 180);

const MOST_ROWS_KEPT = 2048;

export const createHeightJet = (): HeightJet => ({ z: 0, zb: 0, zy: 0, zbb: 0, zby: 0, zyy: 0 });

/**
 * Builds the underside of DESIGN 2 from resolved numbers: a crown arc whose chord has the station's slope, crossing the
 * bearing line at the height of the rock's arc, with flare and relief added along z.
 * @throws InputError 'out-of-range' where crown and width leave no arc, or a tangent is steeper than 85 degrees
 */
export function createUnderside(shape: BarShape): Underside {
  refuseImpossible(shape);
  const row = remembering(createStationRows(shape));
  return { shape, row, heightJet: (r, y, out, bare = false) => heightJet(shape, r, y, out, bare) };
}

/** Rows asked for again (both bars, several lines across, every figure) are worked out once. */
function remembering(make: (bMm: number) => StationRow): (bMm: number) => StationRow {
  const known = new Map<number, StationRow>();
  return (bMm) => {
    const found = known.get(bMm);
    if (found !== undefined) return found;
    if (known.size >= MOST_ROWS_KEPT) known.clear();
    const row = make(bMm);
    known.set(bMm, row);
    return row;
  };
}

function heightJet(shape: BarShape, row: StationRow, yMm: number, out: HeightJet, bare: boolean): HeightJet {
  sectionJet(row, yMm, out);
  if (bare) return out;
  out.z += row.flare[0];
  out.zb += row.flare[1];
  out.zbb += row.flare[2];
  addRelief(shape, row, yMm, out);
  return out;
}

/**
 * The arc through the bearing line: with s = sine of the tangent angle, s(y) = s_B + crown (y - y_B) and dz/dy = tan.
 * z = z_B + F(u, s_B, crown), F the integral of tan over u = y - y_B; partial derivatives by the same quadrature, which
 * stays exact to rounding for a flat section.
 */
function sectionJet(row: StationRow, yMm: number, out: HeightJet): void {
  const [yB, yB1, yB2] = row.bearingY;
  const [s, s1, s2] = row.bearingSine;
  const [k, k1, k2] = row.crown;
  const u = yMm - yB;
  let f = 0;
  let fs = 0;
  let fk = 0;
  let fss = 0;
  let fsk = 0;
  let fkk = 0;
  for (let i = 0; i < RULE.nodes.length; i++) {
    const v = RULE.nodes[i]! * u;
    const w = RULE.weights[i]! * u;
    const sine = s + k * v;
    const c2 = 1 - sine * sine;
    const c = Math.sqrt(c2);
    const cube = w / (c * c2);
    const fifth = (3 * sine * cube) / c2;
    f += (w * sine) / c;
    fs += cube;
    fk += cube * v;
    fss += fifth;
    fsk += fifth * v;
    fkk += fifth * v * v;
  }
  const sine = s + k * u;
  const c2 = 1 - sine * sine;
  const c = Math.sqrt(c2);
  const inverseCube = 1 / (c * c2);
  const fu = sine / c;
  const fuu = k * inverseCube;
  const u1 = -yB1;
  out.z = row.bearingZ[0] + f;
  out.zy = fu;
  out.zyy = fuu;
  out.zb = row.bearingZ[1] + fu * u1 + fs * s1 + fk * k1;
  out.zby = fuu * u1 + inverseCube * (s1 + u * k1);
  out.zbb =
    row.bearingZ[2] +
    fuu * u1 * u1 +
    2 * inverseCube * u1 * (s1 + u * k1) +
    fss * s1 * s1 +
    2 * fsk * s1 * k1 +
    fkk * k1 * k1 -
    fu * yB2 +
    fs * s2 +
    fk * k2;
}

/** Edge relief: depth x (way into the relieved strip)^2 on both edges, t measured from the middle of the tapered chord. */
function addRelief(shape: BarShape, row: StationRow, yMm: number, out: HeightJet): void {
  const [m, m1, m2] = row.middleY;
  const [h, h1, h2] = row.halfWidthY;
  const t = (yMm - m) / h;
  const start = 1 - 2 * shape.reliefFraction;
  const into = Math.abs(t) - start;
  if (into <= 0 || shape.reliefFraction <= 0) return;
  const strip = 1 - start;
  const side = Math.sign(t);
  const tb = -(m1 + t * h1) / h;
  const tbb = -(m2 + 2 * tb * h1 + t * h2) / h;
  const slope = (2 * shape.reliefDepthMm * into) / (strip * strip);
  const bend = (2 * shape.reliefDepthMm) / (strip * strip);
  out.z += shape.reliefDepthMm * (into / strip) ** 2;
  out.zb += slope * side * tb;
  out.zy += (slope * side) / h;
  out.zbb += bend * tb * tb + slope * side * tbb;
  out.zby += (bend * tb) / h + slope * side * (-h1 / (h * h));
  out.zyy += bend / (h * h);
}

function refuseImpossible(shape: BarShape): void {
  for (const station of shape.stations) {
    const halfAngleSine = Math.abs(station.crownCurvaturePerMm) * station.widthMm * 0.5;
    const steepest =
      halfAngleSine < 1 ? Math.sin(Math.min(Math.PI / 2, station.slopeRad + Math.asin(halfAngleSine))) : 1;
    if (steepest < STEEPEST_SINE) continue;
    throw new InputError({
      code: 'out-of-range',
      field: `crown, width and slope at ${station.name}`,
      got: `edge tangent of 85 degrees or more`,
      expected: 'a section that stays less than 85 degrees steep at its edges',
      remedy: 'Take a larger crown radius, a narrower bar or a smaller slope at this station.',
    });
  }
  const reach = Math.max(shape.rockLowPointMm, shape.lengthMm - shape.rockLowPointMm);
  if (Math.abs(shape.rockCurvaturePerMm) * reach < 0.9) return;
  throw new InputError({
    code: 'out-of-range',
    field: 'rockRadius',
    got: `${(1 / shape.rockCurvaturePerMm).toFixed(0)} mm on a bar of ${shape.lengthMm.toFixed(0)} mm`,
    expected: 'a radius well above the distance from the low point to the tip',
    remedy: 'Take a larger rock radius.',
  });
}
