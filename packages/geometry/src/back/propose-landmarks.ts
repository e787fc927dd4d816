import { InputError } from '../numeric/index.ts';
import type { Vec3 } from './back-surface.ts';
import type { Confidence, Proposal } from './propose-part.ts';
import { findScanFrame } from './scan-frame.ts';
import {
  type Extent,
  type GivenLandmarks,
  type LandmarkName,
  PROPOSAL_DEFAULTS,
  withersStation,
} from './scan-landmarks.ts';

export const LANDMARK_NAMES: readonly LandmarkName[] = [
  'bladeEdgeLeft',
  'bladeEdgeRight',
  'withersTop',
  'lowPoint',
  'lastRib',
];

/** Null where the shape gives none. */
export type LandmarkProposals = Readonly<Record<LandmarkName, Proposal<Vec3 | null>>>;

/** The midplane seen from above in turned coordinates (mm, x to the tail, y right, z up): y = atY + slope x. */
export interface PlanLine {
  readonly atY: number;
  readonly slope: number;
}

type HeightAt = (x: number, y: number) => number;

const STEP_MM = 10;
/** A withers' top nearer to the front end of the topline than this may be where the scan begins, mm. */
const NEAR_END_MM = 30;
const BEARING_LINE_Y_MM = 120;

/**
 * Landmarks by the rules of scan-landmarks.ts, with withers' top and last rib on the midplane of symmetry. All in turned
 * coordinates, mm. Nothing is thrown for want of data: a landmark that can't be proposed is null with the reason.
 */
export function proposeLandmarks(
  given: GivenLandmarks,
  heightAt: HeightAt,
  extent: Extent,
  line: PlanLine,
): LandmarkProposals {
  const ridge = ridgeOn(line, heightAt, extent);
  const rear = ridge.at(-1);
  if (ridge.length < 10 || rear === undefined) return none(given, 'The topline on the midplane is too short.');
  const onRidge = (x: number): Vec3 => ridge.reduce((a, b) => (Math.abs(b[0] - x) < Math.abs(a[0] - x) ? b : a));
  const withersTop = given.withersTop ?? onRidge(withersStation(ridge));
  const lastRib = given.lastRib ?? onRidge(withersTop[0] + PROPOSAL_DEFAULTS.lastRibShare * (rear[0] - withersTop[0]));
  try {
    const frame = findScanFrame({ ...given, withersTop, lastRib }, heightAt, extent, BEARING_LINE_Y_MM);
    const back = (name: LandmarkName): Vec3 => {
      const [x, y, z] = frame.landmarks[name].map((value, k) => value - frame.shiftMm[k]) as unknown as Vec3;
      return [frame.cos * x - frame.sin * y, frame.sin * x + frame.cos * y, z];
    };
    const starts = withersTop[0] - ridge[0][0] < NEAR_END_MM;
    return Object.fromEntries(
      LANDMARK_NAMES.map((name) => [name, given[name] ? told(given[name]) : proposed(name, back(name), starts)]),
    ) as Record<LandmarkName, Proposal<Vec3 | null>>;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return none(given, error.message);
  }
}

const told = (value: Vec3): Proposal<Vec3> => ({
  value,
  alternatives: [],
  reason: 'Given.',
  confidence: 'clear',
  given: true,
});

function proposed(name: LandmarkName, value: Vec3, scanStartsThere: boolean): Proposal<Vec3> {
  const say = (reason: string, confidence: Confidence): Proposal<Vec3> => ({
    value,
    alternatives: [],
    reason,
    confidence,
    given: false,
  });
  if (name === 'withersTop') {
    const rule = 'The highest point of the topline ahead of its low point.';
    return scanStartsThere
      ? say(`${rule} It lies where the scan begins: the true top may lie ahead of it.`, 'unsure')
      : say(rule, 'likely');
  }
  if (name === 'lowPoint') return say('The lowest point of the topline between blade edges and last rib.', 'likely');
  const feel = 'A surface does not show it: feel for it on the horse.';
  if (name === 'lastRib') {
    const share = 100 * PROPOSAL_DEFAULTS.lastRibShare;
    return say(`${share} % of the way from the withers' top to the end of the scan. ${feel}`, 'unsure');
  }
  return say(
    `${PROPOSAL_DEFAULTS.bladeBehindWithersMm} mm behind the withers' top, on the bearing line. ${feel}`,
    'unsure',
  );
}

function none(given: GivenLandmarks, reason: string): LandmarkProposals {
  return Object.fromEntries(
    LANDMARK_NAMES.map((name) => [
      name,
      given[name] ? told(given[name]) : { value: null, alternatives: [], reason, confidence: 'unsure', given: false },
    ]),
  ) as unknown as LandmarkProposals;
}

function ridgeOn(line: PlanLine, heightAt: HeightAt, extent: Extent): Vec3[] {
  const ridge: Vec3[] = [];
  for (let x = extent.xMm[0]; x <= extent.xMm[1]; x += STEP_MM) {
    const y = line.atY + line.slope * x;
    const z = heightAt(x, y);
    if (!Number.isNaN(z)) ridge.push([x, y, z]);
  }
  return ridge;
}
