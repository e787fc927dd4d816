import type { BackSurface } from '../back/index.ts';
import { bearingY, type Tree, treeLengthMm } from '../bar/index.ts';
import { bearingEnds, type Rules, type Setup } from '../seating/index.ts';
import { type Reading, squeezeMm } from './reading.ts';

/** Where a back's bearing line runs beside the midplane, mm (DESIGN 1). */
export const BEARING_LINE_MM = 120;
/** Most flare in the trade, mm (TRADE 1b: front 8-30, rear 6-25; common practice, no source). */
const MOST_FRONT_LIFT_MM = 30;
const MOST_REAR_LIFT_MM = 25;
/** Cells in the half of a flare next to its beginning are left out: no lift of the tip could clear them. */
const LEAST_LIFT_SHARE = 0.25;

/**
 * Curvature of the arc whose sag over the bar's bearing chord equals the back's own along the bearing line, mean of both
 * sides, 1/mm. null where the back has no data at the chord's ends or middle. Exact arc: R = (h^2 + s^2) / 2 s.
 */
export function fittedRock(tree: Tree, back: BackSurface, setPositionMm: number): number | null {
  const { fromMm, toMm } = bearingEnds(tree);
  const middleMm = (fromMm + toMm) / 2;
  const height = (bMm: number): number => {
    const y = bearingY(tree, 'right', bMm);
    return (back.heightMm(setPositionMm + bMm, y) + back.heightMm(setPositionMm + bMm, -y)) / 2;
  };
  const sag = (height(fromMm) + height(toMm)) / 2 - height(middleMm);
  if (Number.isNaN(sag)) return null;
  const half = (toMm - fromMm) / 2;
  return (2 * sag) / (half * half + sag * sag);
}

/** How each station's slope lies against the back at matched feet, mean of both bars. Radians, by station. */
export interface SlopeFit {
  readonly names: readonly string[];
  /** bar - back, + too steep. */
  readonly mismatchRad: readonly number[];
  /** What to add so that the front, the rear, or both lie as the back does: front and rear add up to both. */
  readonly frontRad: readonly number[];
  readonly rearRad: readonly number[];
  /** What turns the bar's slope change into the back's and keeps the bar's mean. */
  readonly twistRad: readonly number[];
}

/**
 * Splits the slope mismatch into a part of the first station, fading to nothing at the last, and the other way round.
 * Stations between that are off that line are shared between the two by their place. null where the feet have no data.
 */
export function fitSlopes(reading: Reading): SlopeFit | null {
  const stations = reading.seated.tree.right.shape.stations;
  const found = stations.map((s) => reading.mismatch.stations.filter((m) => m.name === s.name));
  if (stations.length < 2 || found.some((f) => f.length !== 2)) return null;
  const mismatchRad = found.map((f) => ((f[0]!.mismatchDeg + f[1]!.mismatchDeg) / 2) * (Math.PI / 180));
  const first = stations[0]!.atMm;
  const last = stations[stations.length - 1]!.atMm;
  const rearward = stations.map((s) => (s.atMm - first) / (last - first));
  const front = mismatchRad[0]!;
  const rear = mismatchRad[mismatchRad.length - 1]!;
  const offLine = mismatchRad.map((m, i) => m - front * (1 - rearward[i]!) - rear * rearward[i]!);
  return {
    names: stations.map((s) => s.name),
    mismatchRad,
    frontRad: rearward.map((share, i) => -(front + offLine[i]!) * (1 - share)),
    rearRad: rearward.map((share, i) => -(rear + offLine[i]!) * share),
    twistRad: rearward.map((share) => -((front - rear) / 2) * (1 - 2 * share)),
  };
}

/** Nearest set position whose front bearing begins within the rules' stretch behind the blade edge, mm. */
export function fittedSetPosition(tree: Tree, back: BackSurface, setup: Setup): number {
  const { rules } = setup;
  const { bladeEdgeLeft, bladeEdgeRight } = back.landmarks;
  const edge = (bladeEdgeLeft[0] + bladeEdgeRight[0]) / 2;
  const start = setup.setPositionMm + tree.right.shape.flareZoneFrontMm - edge;
  return setup.setPositionMm + clamp(start, rules) - start;
}

function clamp(startMm: number, rules: Rules): number {
  return Math.min(Math.max(startMm, rules.frontBearingFromMm), rules.frontBearingToMm);
}

/**
 * Overall length whose bearing ends at the last rib, mm. A tree that stands outside the stretch where front bearing
 * should begin is measured from that stretch's middle: its place is not its length's fault.
 */
export function usableBarLength(tree: Tree, back: BackSurface, setup: Setup): number {
  const { rules, setPositionMm } = setup;
  const fitted = fittedSetPosition(tree, back, setup);
  const spare = (rules.frontBearingToMm - rules.frontBearingFromMm) / 2;
  const place = fitted === setPositionMm ? fitted : fitted + Math.sign(fitted - setPositionMm) * spare;
  return back.landmarks.lastRib[0] - place + tree.right.shape.flareZoneRearMm;
}

/**
 * Tip lifts that clear: the front one over what lies ahead of the blade edge when the tree stands in its fitted place,
 * the rear one past the last rib. Never less than the tree has, mm.
 */
export function fittedFlare(reading: Reading): { frontMm: number; rearMm: number } {
  const { seated } = reading;
  const { tree, back, setup, samples } = seated;
  const shape = tree.right.shape;
  const place = fittedSetPosition(tree, back, setup);
  const { bladeEdgeLeft, bladeEdgeRight, lastRib } = back.landmarks;
  const frontReach = Math.max(bladeEdgeLeft[0], bladeEdgeRight[0]) - place;
  const rearReach = Math.max(lastRib[0] - place, 0);
  let front = 0;
  let rear = 0;
  for (let i = 0; i < samples.count; i++) {
    const squeeze = squeezeMm(seated, i);
    if (!(squeeze > 0) || samples.areaMm2[i] === 0) continue;
    const b = samples.bMm[i]!;
    const up = Math.max(0.3, seated.seat.rows.normal[3 * i + 2]!);
    const frontShare = zoneShare(shape.flareZoneFrontMm - b, shape.flareZoneFrontMm);
    const rearShare = zoneShare(b - (treeLengthMm(tree) - shape.flareZoneRearMm), shape.flareZoneRearMm);
    if (b < frontReach && frontShare > LEAST_LIFT_SHARE) front = Math.max(front, squeeze / (frontShare * up));
    if (b > rearReach && rearShare > LEAST_LIFT_SHARE) rear = Math.max(rear, squeeze / (rearShare * up));
  }
  return {
    frontMm: Math.max(shape.flareLiftFrontMm, Math.min(MOST_FRONT_LIFT_MM, shape.flareLiftFrontMm + front)),
    rearMm: Math.max(shape.flareLiftRearMm, Math.min(MOST_REAR_LIFT_MM, shape.flareLiftRearMm + rear)),
  };
}

/** Share of the tip lift that acts at a distance into a flare zone. */
const zoneShare = (into: number, zone: number): number => (into > 0 && zone > 0 ? (into / zone) ** 2 : 0);
