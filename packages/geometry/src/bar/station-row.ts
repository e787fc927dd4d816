import {
  addJet,
  applyJet,
  type Curve1,
  constantJet,
  cosJet,
  type Jet1,
  monotoneCubic,
  multiplyJet,
  scaleJet,
  sinJet,
  sqrtJet,
} from '../numeric/index.ts';
import type { BarShape, BarStation } from './bar-shape.ts';

/** Everything about one station plane that does not depend on y: value and two derivatives along b. mm, radians. */
export interface StationRow {
  /** y of the bearing line (right side, positive). */
  readonly bearingY: Jet1;
  /** Height of the bearing line: the rock's arc. */
  readonly bearingZ: Jet1;
  /** Sine of the section's tangent angle (dz/dy = tan) at the bearing line. */
  readonly bearingSine: Jet1;
  readonly crown: Jet1;
  /** y of the middle of the chord. */
  readonly middleY: Jet1;
  /** Half of the tapered chord's horizontal extent; the relief is measured in it. */
  readonly halfWidthY: Jet1;
  /** The same after the corners are rounded in plan; cells lie within it. */
  readonly outlineHalfWidthY: number;
  readonly flare: Jet1;
  readonly slopeRad: number;
  /** 1 / cos(slope): how far along z a height square to the chord reaches. */
  readonly uprightShare: Jet1;
  readonly chordWidthMm: number;
  readonly thicknessMm: number;
  /** The station itself, from the front tip edge. */
  readonly bMm: number;
}

/** Interpolates a bar's stations once, then answers for any b. Outside 0..length the end rows continue. */
export function createStationRows(shape: BarShape): (bMm: number) => StationRow {
  const along = stationCurves(shape.stations);
  return (bMm: number): StationRow => {
    const slope = along.slope.at(bMm);
    const width = along.width.at(bMm);
    const crown = along.crown.at(bMm);
    const halfCrownAngle = scaleJet(multiplyJet(crown, width), 0.5);
    const innerSine = innerEdgeSine(slope, halfCrownAngle);
    const innerY = scaleJet(along.spread.at(bMm), 0.5);
    const inset = along.inset.at(bMm);
    const halfChordY = scaleJet(multiplyJet(width, cosJet(slope)), 0.5);
    const halfWidthY = multiplyJet(halfChordY, tipTaperAt(shape, bMm));
    return {
      bearingY: addJet(innerY, inset),
      bearingZ: rockHeight(shape, bMm),
      bearingSine: addJet(innerSine, multiplyJet(crown, inset)),
      crown,
      middleY: addJet(innerY, halfChordY),
      halfWidthY,
      outlineHalfWidthY: Math.max(0, halfWidthY[0] - cornerInset(shape, bMm) * Math.cos(slope[0])),
      flare: flareAt(shape, bMm),
      slopeRad: slope[0],
      uprightShare: perCosine(slope),
      chordWidthMm: (2 * halfWidthY[0]) / Math.cos(slope[0]),
      thicknessMm: along.thickness.at(bMm)[0],
      bMm,
    };
  };
}

function stationCurves(stations: readonly BarStation[]) {
  const at = stations.map((s) => s.atMm);
  const curve = (pick: (s: BarStation) => number): Curve1 => monotoneCubic(at, stations.map(pick));
  return {
    slope: curve((s) => s.slopeRad),
    spread: curve((s) => s.spreadMm),
    width: curve((s) => s.widthMm),
    crown: curve((s) => s.crownCurvaturePerMm),
    inset: curve((s) => s.bearingInsetMm),
    thickness: curve((s) => s.thicknessMm),
  };
}

function perCosine(slope: Jet1): Jet1 {
  const [share, tan] = [1 / Math.cos(slope[0]), Math.tan(slope[0])];
  return applyJet(slope, share, share * tan, share * (1 + 2 * tan * tan));
}

/** Tangent at the inner edge of an arc whose chord falls outward at `slope`: -sin(slope + half the arc's angle). */
function innerEdgeSine(slope: Jet1, halfAngleSine: Jet1): Jet1 {
  const halfAngleCosine = sqrtJet(addJet(constantJet(1), scaleJet(multiplyJet(halfAngleSine, halfAngleSine), -1)));
  const sum = addJet(multiplyJet(sinJet(slope), halfAngleCosine), multiplyJet(cosJet(slope), halfAngleSine));
  return scaleJet(sum, -1);
}

/** Exact arc of the rock radius through the low point; straight for curvature 0. */
function rockHeight(shape: BarShape, bMm: number): Jet1 {
  const u = bMm - shape.rockLowPointMm;
  const k = shape.rockCurvaturePerMm;
  const cosine = Math.sqrt(1 - k * k * u * u);
  return [(k * u * u) / (1 + cosine), (k * u) / cosine, k / (cosine * cosine * cosine)];
}

/** (distance into the zone / zone)^2 and its derivatives: 0 with slope 0 at the zone's start, 1 at the tip edge. */
function zoneSquare(intoZone: number, zone: number, direction: number): Jet1 {
  if (zone <= 0 || intoZone <= 0) return constantJet(0);
  return [(intoZone / zone) ** 2, (direction * 2 * intoZone) / zone ** 2, 2 / zone ** 2];
}

function tipZones(shape: BarShape, bMm: number): { front: Jet1; rear: Jet1 } {
  return {
    front: zoneSquare(shape.flareZoneFrontMm - bMm, shape.flareZoneFrontMm, -1),
    rear: zoneSquare(bMm - (shape.lengthMm - shape.flareZoneRearMm), shape.flareZoneRearMm, 1),
  };
}

function flareAt(shape: BarShape, bMm: number): Jet1 {
  const { front, rear } = tipZones(shape, bMm);
  return addJet(scaleJet(front, shape.flareLiftFrontMm), scaleJet(rear, shape.flareLiftRearMm));
}

function tipTaperAt(shape: BarShape, bMm: number): Jet1 {
  const { front, rear } = tipZones(shape, bMm);
  return applyJet(addJet(front, rear), 1 - (1 - shape.tipTaper) * (front[0] + rear[0]), -(1 - shape.tipTaper), 0);
}

/** How far a rounded corner draws the edge in, mm along the chord. */
function cornerInset(shape: BarShape, bMm: number): number {
  const r = shape.tipRoundMm;
  const toTip = Math.max(0, Math.min(bMm, shape.lengthMm - bMm));
  return toTip >= r ? 0 : r - Math.sqrt(r * r - (r - toTip) ** 2);
}
