import { InputError } from '../numeric/index.ts';
import type { Landmarks, Vec3 } from './back-surface.ts';
import {
  completeBladeEdges,
  completeToplinePoints,
  type Extent,
  type GivenLandmarks,
  type LandmarkName,
  lowestOnTopline,
} from './scan-landmarks.ts';

type HeightAt = (x: number, y: number) => number;

/** The horse frame seen from the turned file frame (mm, x to the tail, y right, z up): turn about z, then shift. */
export interface ScanFrame {
  readonly cos: number;
  readonly sin: number;
  readonly shiftMm: Vec3;
  readonly landmarks: Landmarks;
  readonly warnings: readonly string[];
}

/** Landmarks are searched along the bearing line at this step, mm. */
const STEP_MM = 0.25;
const LEAST_TOPLINE_MM = 100;
const BLADE_STAGGER_MM = 40;

/**
 * Horse frame of DESIGN 1 from landmarks and shape: midplane through withersTop, lastRib and the up direction; x = 0 at
 * the mean of the blade edges; z = 0 at the low point of the bearing line, mean of both sides, blade edge to last rib.
 * @throws InputError 'inconsistent' when landmarks look swapped or reversed or the back lies upside down,
 *   'out-of-range' when the bearing line lies beside the scan, or a landmark lies further away than a horse is long
 */
export function findScanFrame(
  given: GivenLandmarks,
  heightAt: HeightAt,
  extent: Extent,
  bearingYMm: number,
): ScanFrame {
  const { withersTop, lastRib } = completeToplinePoints(given, heightAt, extent);
  const dx = lastRib[0] - withersTop[0];
  const dy = lastRib[1] - withersTop[1];
  if (!(dx >= LEAST_TOPLINE_MM && dx > Math.abs(dy))) throw reversed(dx, dy);
  const length = Math.hypot(dx, dy);
  if (length > LONGEST_BACK_MM) throw farRib(length);
  const cos = dx / length;
  const sin = dy / length;
  const along = cos * withersTop[0] + sin * withersTop[1];
  const across = cos * withersTop[1] - sin * withersTop[0];
  // Midplane frame: x from the withers' top, y from the midplane, z as in the file.
  const toMid = (p: Vec3): Vec3 => [cos * p[0] + sin * p[1] - along, cos * p[1] - sin * p[0] - across, p[2]];
  const midHeight = (x: number, y: number) =>
    heightAt(cos * (x + along) - sin * (y + across), sin * (x + along) + cos * (y + across));
  const marked = Object.fromEntries(Object.entries(given).map(([name, p]) => [name, toMid(p)])) as GivenLandmarks;
  refuseFarBlades(marked);
  const blades = completeBladeEdges(marked, toMid(withersTop), midHeight, bearingYMm);
  const warnings = checkBlades(blades, length);
  const x0 = (blades.bladeEdgeLeft[0] + blades.bladeEdgeRight[0]) / 2;
  const z0 = bearingLow(midHeight, x0, length, bearingYMm, warnings);
  const lower = (p: Vec3): Vec3 => [p[0] - x0, p[1], p[2] - z0];
  const names: LandmarkName[] = ['bladeEdgeLeft', 'bladeEdgeRight', 'withersTop', 'lowPoint', 'lastRib'];
  const landmarks: Landmarks = {
    bladeEdgeLeft: lower(blades.bladeEdgeLeft),
    bladeEdgeRight: lower(blades.bladeEdgeRight),
    withersTop: lower(toMid(withersTop)),
    lowPoint: lower(marked.lowPoint ?? lowestOnTopline(midHeight, x0, toMid(lastRib))),
    lastRib: lower(toMid(lastRib)),
    proposed: names.filter((name) => given[name] === undefined),
  };
  return { cos, sin, shiftMm: [-along - x0, -across, -z0], landmarks, warnings };
}

function reversed(dx: number, dy: number): InputError {
  return new InputError({
    code: 'inconsistent',
    field: 'landmarks.lastRib',
    got: `${dx.toFixed(0)} mm towards the tail and ${dy.toFixed(0)} mm to the right of withersTop`,
    expected: `the last rib at least ${LEAST_TOPLINE_MM} mm behind the withers' top, along the tail axis`,
    remedy: 'Check axes.tail, the unit, and whether withersTop and lastRib were exchanged.',
  });
}

function checkBlades(blades: { bladeEdgeLeft: Vec3; bladeEdgeRight: Vec3 }, ribX: number): string[] {
  const { bladeEdgeLeft: left, bladeEdgeRight: right } = blades;
  if (!(left[1] < 0 && right[1] > 0)) {
    throw new InputError({
      code: 'inconsistent',
      field: 'landmarks.bladeEdgeLeft',
      got: `left edge ${left[1].toFixed(0)} mm and right edge ${right[1].toFixed(0)} mm to the right of the midplane`,
      expected: 'the left edge left of the midplane, the right edge right of it',
      remedy: 'Left and right look swapped: exchange the two landmarks, or correct axes.',
    });
  }
  if (!((left[0] + right[0]) / 2 < ribX)) {
    throw new InputError({
      code: 'inconsistent',
      field: 'landmarks.bladeEdgeLeft',
      got: `${((left[0] + right[0]) / 2 - ribX).toFixed(0)} mm behind the last rib`,
      expected: 'blade edges ahead of the last rib',
      remedy: 'Check which landmark is which.',
    });
  }
  const stagger = Math.abs(left[0] - right[0]);
  return stagger > BLADE_STAGGER_MM
    ? [`The blade edges lie ${stagger.toFixed(0)} mm apart along the horse: it may not have stood square.`]
    : [];
}

/** Nothing of a horse's back lies further behind its withers, mm; beyond it a landmark was mistyped. Our own rule, no source. */
const LONGEST_BACK_MM = 4000;

function farRib(lengthMm: number): InputError {
  return new InputError({
    code: 'out-of-range',
    field: 'landmarks.lastRib',
    got: `${lengthMm.toFixed(0)} mm behind the withers' top`,
    expected: `at most ${LONGEST_BACK_MM} mm`,
    remedy: 'Correct the landmark that was mistyped, or the unit.',
  });
}

function refuseFarBlades({ bladeEdgeLeft, bladeEdgeRight }: GivenLandmarks): void {
  for (const [name, edge] of Object.entries({ bladeEdgeLeft, bladeEdgeRight })) {
    if (edge === undefined || Math.abs(edge[0]) <= LONGEST_BACK_MM) continue;
    throw new InputError({
      code: 'out-of-range',
      field: `landmarks.${name}`,
      got: `${edge[0].toFixed(0)} mm behind the withers' top`,
      expected: `at most ${LONGEST_BACK_MM} mm away`,
      remedy: 'Correct the landmark that was mistyped, or the unit.',
    });
  }
}

function bearingLow(heightAt: HeightAt, fromX: number, toX: number, y: number, warnings: string[]): number {
  let low = Number.NaN;
  let seen = 0;
  let missing = 0;
  let ridgeAbove = 0;
  for (let x = fromX; x <= toX; x += STEP_MM) {
    const mean = (heightAt(x, y) + heightAt(x, -y)) / 2;
    if (Number.isNaN(mean)) {
      missing++;
      continue;
    }
    seen++;
    const ridge = heightAt(x, 0);
    if (!Number.isNaN(ridge)) ridgeAbove += ridge - mean;
    if (!(mean >= low)) low = mean;
  }
  if (seen === 0) throw besideScan(y);
  if (ridgeAbove < 0) throw upsideDown(ridgeAbove / seen);
  if (missing > 0) {
    const percent = ((100 * missing) / (seen + missing)).toFixed(0);
    warnings.push(`The bearing line |y| = ${y} mm has no data on both sides over ${percent} % of its length.`);
  }
  return low;
}

function besideScan(y: number): InputError {
  return new InputError({
    code: 'out-of-range',
    field: 'mesh',
    expected: `surface at |y| = ${y} mm on both sides, somewhere between blade edge and last rib`,
    remedy: 'The scan is too narrow, or unit, axes or landmarks do not belong to it.',
  });
}

function upsideDown(meanMm: number): InputError {
  return new InputError({
    code: 'inconsistent',
    field: 'axes.up',
    got: `a topline ${(-meanMm).toFixed(0)} mm below the bearing lines`,
    expected: 'a topline above the bearing lines',
    remedy: 'Up looks reversed: change the sign of axes.up (and of axes.right).',
  });
}
