import type { BackSurface } from '../back/index.ts';
import { sampleBars, type Tree } from '../bar/index.ts';
import { alterTree } from '../findings/index.ts';
import { contactFigures, type Setup, seatTree } from '../seating/index.ts';
import { rideStride, type StrideResult } from './ride-stride.ts';
import type { Stride } from './stride.ts';

/** A front tip's flare and what it does over the stride and standing. */
export interface TipOption {
  /** Length of the flared zone and lift at the tip edge, mm. */
  readonly zoneMm: number;
  readonly liftMm: number;
  /** Least clearance at the tip edge over the whole stride, both sides, from a run of its own; null off the data. */
  readonly leastGapMm: number | null;
  readonly worstPhase: number;
  readonly highestPressureKPa: number;
  /** Underside left to bear between the flares, both bars. */
  readonly bearingCm2: number;
  /** Standing. */
  readonly contactCm2: number;
  readonly meanPressureKPa: number;
  readonly p95PressureKPa: number;
}

export interface TipSolution {
  readonly wantedMm: number;
  readonly present: TipOption;
  /** For each zone length the least lift that reaches the wanted clearance; null where none up to the limit does. */
  readonly options: readonly { readonly zoneMm: number; readonly option: TipOption | null }[];
}

export interface SolveTipOptions {
  /** Clearance to the layers' top wanted at the tip edge at every phase, mm; negative allows squeeze. */
  readonly wantedMm: number;
  /** Zone lengths to try, mm; default the present one and 20 mm either way. */
  readonly zonesMm?: readonly number[];
}

/** The search looks at so many cells and phases; what it finds is run again in full. */
const SEARCH_SAMPLES = 2500;
const SEARCH_PHASES = 12;
/** Largest lift that a pattern holds, mm. */
export const MOST_LIFT_MM = 80;
const LIFT_TOLERANCE_MM = 0.05;

/** The lift that keeps the front tips clear over the stride, for each zone length, and its price in bearing area. */
export function solveTip(
  tree: Tree,
  standing: BackSurface,
  setup: Setup,
  stride: Stride,
  { wantedMm, zonesMm }: SolveTipOptions,
): TipSolution {
  const { flareZoneFrontMm, flareLiftFrontMm } = tree.right.shape;
  const describe = (zoneMm: number, liftMm: number): TipOption =>
    describeTip(withFrontTip(tree, zoneMm, liftMm), standing, setup, stride);
  const zones =
    zonesMm ?? [flareZoneFrontMm - 20, flareZoneFrontMm, flareZoneFrontMm + 20].filter((zone) => zone >= 20);
  return {
    wantedMm,
    present: describe(flareZoneFrontMm, flareLiftFrontMm),
    options: zones.map((zoneMm) => {
      const liftMm = leastLift(tree, standing, setup, stride, zoneMm, wantedMm);
      return { zoneMm, option: liftMm === null ? null : describe(zoneMm, liftMm) };
    }),
  };
}

/** The same tree with both front tips flared like this. */
export const withFrontTip = (tree: Tree, zoneMm: number, liftMm: number): Tree =>
  alterTree(tree, (shape) => ({ ...shape, flareZoneFrontMm: zoneMm, flareLiftFrontMm: liftMm }));

function leastLift(
  tree: Tree,
  standing: BackSurface,
  setup: Setup,
  stride: Stride,
  zoneMm: number,
  wantedMm: number,
): number | null {
  const gapAt = (liftMm: number, phases: number, samples: number): number => {
    const run = rideStride(withFrontTip(tree, zoneMm, liftMm), standing, { ...setup, samples }, { ...stride, phases });
    return leastOf(run) ?? Number.NEGATIVE_INFINITY;
  };
  const search = (liftMm: number): number => gapAt(liftMm, SEARCH_PHASES, SEARCH_SAMPLES);
  const found = smallestReaching(search, wantedMm, tree.right.shape.flareLiftFrontMm);
  return found === null ? null : closeUp(found, wantedMm, (liftMm) => gapAt(liftMm, stride.phases, setup.samples));
}

/** Smallest lift whose gap reaches the wanted one, by the secant rule kept in a bracket: the gap rises nearly evenly. */
function smallestReaching(gapAt: (liftMm: number) => number, wantedMm: number, nearMm: number): number | null {
  let [low, atLow] = [0, gapAt(0) - wantedMm];
  if (atLow >= 0) return 0;
  let high = Math.min(MOST_LIFT_MM, nearMm + 15);
  let atHigh = gapAt(high) - wantedMm;
  if (atHigh < 0) {
    [low, atLow] = [high, atHigh];
    high = MOST_LIFT_MM;
    atHigh = gapAt(high) - wantedMm;
    if (atHigh < 0) return null;
  }
  for (let i = 0; i < 12 && high - low > LIFT_TOLERANCE_MM; i++) {
    const secant = low - (atLow * (high - low)) / (atHigh - atLow) + LIFT_TOLERANCE_MM / 2;
    const next = i % 3 === 2 || !Number.isFinite(secant) ? (low + high) / 2 : Math.min(high, Math.max(low, secant));
    const atNext = gapAt(next) - wantedMm;
    if (atNext >= 0) [high, atHigh] = [next, atNext];
    else [low, atLow] = [next, atNext];
  }
  return high;
}

/** The coarse search may miss by a little: what is short in the full run is added, at most three times. */
function closeUp(liftMm: number, wantedMm: number, gapAt: (liftMm: number) => number): number {
  let lift = liftMm;
  for (let i = 0; i < 3; i++) {
    const short = wantedMm - gapAt(lift);
    if (short <= 0 || lift >= MOST_LIFT_MM) break;
    lift = Math.min(MOST_LIFT_MM, lift + short + LIFT_TOLERANCE_MM);
  }
  return lift;
}

function leastOf({ tips }: StrideResult): number | null {
  const gaps = tips.map(({ leastGapMm }) => leastGapMm).filter((gap) => gap !== null);
  return gaps.length === 0 ? null : Math.min(...gaps);
}

function describeTip(tree: Tree, standing: BackSurface, setup: Setup, stride: Stride): TipOption {
  const run = rideStride(tree, standing, setup, stride);
  const still = contactFigures(seatTree(tree, standing, setup));
  const { flareZoneFrontMm, flareLiftFrontMm } = tree.right.shape;
  return {
    zoneMm: flareZoneFrontMm,
    liftMm: flareLiftFrontMm,
    leastGapMm: leastOf(run),
    worstPhase: run.worstPhase,
    highestPressureKPa: Math.max(...run.tips.map(({ highestPressureKPa }) => highestPressureKPa)),
    bearingCm2: bearingCm2(tree, setup),
    contactCm2: still.areaCm2,
    meanPressureKPa: still.meanPressureKPa,
    p95PressureKPa: still.p95PressureKPa,
  };
}

/** Underside between the flares, slot out, both bars. */
function bearingCm2(tree: Tree, setup: Setup): number {
  const { areaMm2, bMm, count } = sampleBars(tree.left, tree.right, { samples: setup.samples });
  const { flareZoneFrontMm, flareZoneRearMm, lengthMm } = tree.right.shape;
  let sum = 0;
  for (let i = 0; i < count; i++) {
    if (bMm[i]! >= flareZoneFrontMm && bMm[i]! <= lengthMm - flareZoneRearMm) sum += areaMm2[i]!;
  }
  return sum / 100;
}
