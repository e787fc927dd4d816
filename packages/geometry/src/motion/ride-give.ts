import type { BackSurface } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import { transformPoint } from '../numeric/index.ts';
import { barToHorse, pressCells, type SeatedTree, type Setup, seatTree } from '../seating/index.ts';

/** The seat under one load factor, against standing. */
export interface RideGiveRow {
  readonly factor: number;
  /** Downward move of the place where the weight acts, mm. */
  readonly seatTravelMm: number;
  /** Rise of the energy stored in layers and bars, N mm. */
  readonly storedNmm: number;
  /** Work of the weight on the way down, by Simpson's rule over the factors between, N mm: the same but for rounding. */
  readonly workNmm: number;
  /** Of the stored rise, the part in bars and ties. */
  readonly inBarsNmm: number;
}

/** Gait factors of the bench (VALIDATION E2). */
export const RIDE_GIVE_FACTORS: readonly number[] = [1.2, 2.5, 2.8, 3];
/** Even number of steps from standing to each factor. */
const STEPS = 6;

/** How far the seat gives and how much it stores from standing to a gait's load, at rest at each. Damping is not modelled. */
export function* rideGive(
  tree: Tree,
  back: BackSurface,
  setup: Setup,
  factors: readonly number[] = RIDE_GIVE_FACTORS,
): Generator<RideGiveRow, void> {
  const at = (factor: number): Moment => momentOf(seatTree(tree, back, { ...setup, load: { ...setup.load, factor } }));
  const standing = at(setup.load.factor);
  for (const factor of factors) {
    const way = Array.from({ length: STEPS - 1 }, (_, i) =>
      at(setup.load.factor + ((factor - setup.load.factor) * (i + 1)) / STEPS),
    );
    const end = at(factor);
    yield {
      factor,
      seatTravelMm: standing.heightMm - end.heightMm,
      storedNmm: end.storedNmm - standing.storedNmm,
      inBarsNmm: end.bentNmm - standing.bentNmm,
      workNmm: workAlong([standing, ...way, end]),
    };
  }
}

interface Moment {
  readonly weightN: number;
  readonly heightMm: number;
  readonly storedNmm: number;
  readonly bentNmm: number;
}

function momentOf(seated: SeatedTree): Moment {
  const { seat, loads, stack, samples, flex } = seated;
  const { energy } = pressCells(stack, seat.rows.distanceMm, seat.mask);
  let stored = 0;
  for (let i = 0; i < samples.count; i++) stored += energy[i]! * samples.areaMm2[i]!;
  const bent = flex?.seat.bentNmm ?? 0;
  const [load] = loads;
  return {
    weightN: -load!.forceN[2],
    heightMm: transformPoint(barToHorse(seat.pose), ...load!.pointMm)[2],
    storedNmm: stored + bent,
    bentNmm: bent,
  };
}

/** Integral of weight over the way down: weight at the end less the integral of height over weight, by Simpson's rule in even steps of weight. */
function workAlong(moments: readonly Moment[]): number {
  const [first, last] = [moments[0]!, moments[moments.length - 1]!];
  const step = (last.weightN - first.weightN) / (moments.length - 1);
  const drop = (m: Moment): number => first.heightMm - m.heightMm;
  const weightOf = (i: number): number => (i === 0 || i === moments.length - 1 ? 1 : i % 2 === 1 ? 4 : 2);
  const under = moments.reduce((sum, m, i) => sum + weightOf(i) * drop(m), 0) * (step / 3);
  return last.weightN * drop(last) - under;
}
