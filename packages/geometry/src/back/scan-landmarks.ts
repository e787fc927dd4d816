import { InputError } from '../numeric/index.ts';
import type { Landmarks, Vec3 } from './back-surface.ts';

export type LandmarkName = keyof Omit<Landmarks, 'proposed'>;
export type GivenLandmarks = Partial<Record<LandmarkName, Vec3>>;
type HeightAt = (x: number, y: number) => number;

export interface Extent {
  readonly xMm: readonly [number, number];
  readonly yMm: readonly [number, number];
}

/** Rules for landmarks that nobody marked; our own, no source. They are marked as proposed wherever they are used. */
export const PROPOSAL_DEFAULTS = Object.freeze({
  /** Last rib: this share of the way from the withers' top to the rear end of the scan. */
  lastRibShare: 0.8,
  /** Blade edges: this far behind the withers' top, mm. */
  bladeBehindWithersMm: 60,
});

const STATION_MM = 10;
const ACROSS_MM = 5;
/** A ridge point has data this far to both sides. */
const CLEAR_MM = 30;
const ROUNDS = 4;

/**
 * The two points that fix the midplane, z up and x to the tail: as given, or from the ridge (the highest point of each
 * cross-section and a straight line through them). Withers' top: the highest ridge point ahead of the ridge's low point.
 */
export function completeToplinePoints(
  given: GivenLandmarks,
  heightAt: HeightAt,
  extent: Extent,
): { withersTop: Vec3; lastRib: Vec3 } {
  if (given.withersTop && given.lastRib) return { withersTop: given.withersTop, lastRib: given.lastRib };
  const { ridge, line } = ridgeAndLine(heightAt, extent);
  if (ridge.length < 10) {
    throw new InputError({
      code: 'missing',
      field: given.withersTop ? 'landmarks.lastRib' : 'landmarks.withersTop',
      got: `a ridge of ${ridge.length} stations`,
      expected: 'withersTop and lastRib, or a scan long enough to propose them',
      remedy: 'Mark the top of the withers and the last rib on the topline.',
    });
  }
  const onRidge = (x: number): Vec3 => {
    const z = heightAt(x, line(x));
    return [x, line(x), Number.isNaN(z) ? nearestStation(ridge, x)[2] : z];
  };
  const withersTop = given.withersTop ?? onRidge(withersStation(ridge));
  const rear = ridge[ridge.length - 1][0];
  const lastRib = given.lastRib ?? onRidge(withersTop[0] + PROPOSAL_DEFAULTS.lastRibShare * (rear - withersTop[0]));
  return { withersTop, lastRib };
}

/** Blade edges in a frame whose midplane is y = 0: as given, one from the other, or behind the withers' top. */
export function completeBladeEdges(
  given: GivenLandmarks,
  withersTop: Vec3,
  heightAt: HeightAt,
  bearingYMm: number,
): { bladeEdgeLeft: Vec3; bladeEdgeRight: Vec3 } {
  const known = given.bladeEdgeLeft ?? given.bladeEdgeRight;
  const x = known ? known[0] : withersTop[0] + PROPOSAL_DEFAULTS.bladeBehindWithersMm;
  const y = known ? Math.abs(known[1]) : bearingYMm;
  return {
    bladeEdgeLeft: given.bladeEdgeLeft ?? onSide(heightAt, x, -y, withersTop[2]),
    bladeEdgeRight: given.bladeEdgeRight ?? onSide(heightAt, x, y, withersTop[2]),
  };
}

/** At (x, y), with the height of the nearest data towards the midplane when there is none. */
function onSide(heightAt: HeightAt, x: number, y: number, otherwise: number): Vec3 {
  for (let share = 1; share > 0; share -= 0.05) {
    const z = heightAt(x, share * y);
    if (!Number.isNaN(z)) return [x, y, z];
  }
  return [x, y, otherwise];
}

function nearestStation(ridge: readonly Vec3[], x: number): Vec3 {
  return ridge.reduce((a, b) => (Math.abs(b[0] - x) < Math.abs(a[0] - x) ? b : a));
}

/** The lowest point of the topline y = 0 between two stations; the last one where the topline has no data at all. */
export function lowestOnTopline(heightAt: HeightAt, fromX: number, lastRib: Vec3): Vec3 {
  let best = lastRib;
  for (let x = fromX; x <= lastRib[0]; x += 1) {
    const z = heightAt(x, 0);
    if (z < best[2]) best = [x, 0, z];
  }
  return best;
}

/** The ridge and its straight line, cut anew at right angles to the line until that settles. */
function ridgeAndLine(heightAt: HeightAt, extent: Extent): { ridge: Vec3[]; line: (x: number) => number } {
  let slope = 0;
  let ridge: Vec3[] = [];
  let line = (_x: number) => 0;
  for (let round = 0; round < ROUNDS; round++) {
    ridge = ridgeOf(heightAt, extent, Math.atan(slope));
    line = straightLine(ridge);
    slope = line(1) - line(0);
  }
  return { ridge, line };
}

/** Highest points of cross-sections at right angles to a direction in plan; tops on the border of the data are left out. */
function ridgeOf(heightAt: HeightAt, extent: Extent, angleRad: number): Vec3[] {
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  const midX = (extent.xMm[0] + extent.xMm[1]) / 2;
  const midY = (extent.yMm[0] + extent.yMm[1]) / 2;
  const reach = Math.hypot(extent.xMm[1] - extent.xMm[0], extent.yMm[1] - extent.yMm[0]) / 2;
  const ridge: Vec3[] = [];
  for (let along = -reach; along <= reach; along += STATION_MM) {
    const at = (across: number): Vec3 => {
      const x = midX + c * along - s * across;
      const y = midY + s * along + c * across;
      return [x, y, heightAt(x, y)];
    };
    let best = Number.NaN;
    for (let across = -reach; across <= reach; across += ACROSS_MM) {
      if (at(across)[2] > (Number.isNaN(best) ? Number.NEGATIVE_INFINITY : at(best)[2])) best = across;
    }
    if (!Number.isNaN(at(best - CLEAR_MM)[2] + at(best + CLEAR_MM)[2])) ridge.push(at(best));
  }
  return ridge;
}

/** Along the horse: the highest ridge point ahead of the ridge's low point (sought over the middle 60 %), mm. */
export function withersStation(ridge: readonly Vec3[]): number {
  const inner = ridge.slice(Math.floor(0.2 * ridge.length), Math.ceil(0.8 * ridge.length));
  const low = inner.reduce((a, b) => (b[2] < a[2] ? b : a));
  const ahead = ridge.filter((p) => p[0] <= low[0]);
  return ahead.reduce((a, b) => (b[2] > a[2] ? b : a))[0];
}

/** y over x by least squares. */
function straightLine(points: readonly Vec3[]): (x: number) => number {
  const n = points.length;
  const mx = points.reduce((sum, p) => sum + p[0], 0) / n;
  const my = points.reduce((sum, p) => sum + p[1], 0) / n;
  const sxx = points.reduce((sum, p) => sum + (p[0] - mx) ** 2, 0);
  const sxy = points.reduce((sum, p) => sum + (p[0] - mx) * (p[1] - my), 0);
  const slope = sxx > 0 ? sxy / sxx : 0;
  return (x) => my + slope * (x - mx);
}
