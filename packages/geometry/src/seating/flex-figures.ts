import { footOf, treeLengthMm } from '../bar/index.ts';
import { type GreatestStrain, greatestStrain } from '../flex/index.ts';
import { barTemperatureC } from '../layers/index.ts';
import type { Side } from '../spatial/index.ts';
import { groundSeatOf, type SolidsUsed, solidsOf } from './flex-of.ts';
import type { SeatedFlex, SeatedTree } from './seat-tree.ts';
import type { Setup } from './setup-schema.ts';

/** One free tip. Moves are square to the underside, + away from the horse, mm. */
export interface TipGive {
  readonly end: 'front' | 'rear';
  /** From the foot that holds it to the tip edge. */
  readonly freeMm: number;
  /** At the middle of the tip edge. */
  readonly moveMm: number;
  /** Greatest anywhere on the tip. */
  readonly greatestMm: number;
  /** The greatest as a share of the free length; a linear shell leaves its range above a tenth. */
  readonly ofFreePercent: number;
  readonly beyondLinear: boolean;
  /** Greatest strain within a tip's length of the root, percent, and where along the bar. */
  readonly rootStrainPercent: number;
  readonly rootStrainAtMm: number;
  readonly strainLimitPercent: number | null;
  readonly strainSource: string;
  /** Vertical force carried by the tip, N. */
  readonly loadN: number;
}

export interface BarGive {
  readonly side: Side;
  readonly tips: readonly [TipGive, TipGive];
  /** Greatest move between the feet, + away from the horse, mm, and where. */
  readonly middleMm: number;
  readonly middleAtMm: number;
}

export interface FlexFigures {
  readonly temperatureC: number;
  readonly hours: number;
  readonly groundSeat: Setup['flex']['groundSeat'];
  readonly groundSeatNPerMm2: number;
  readonly bars: readonly [BarGive, BarGive];
  /** Energy stored in bars and ties, N mm. */
  readonly bentNmm: number;
  /** Vertical force by where it enters, both bars, N, front to rear. */
  readonly zones: readonly { readonly name: FlexZone; readonly loadN: number }[];
}

export type FlexZone = 'front tip' | "fork's foot" | 'between' | "cantle's foot" | 'rear tip';

/** Above this share of the free length a linear shell leaves its range (VALIDATION C: 12 % too soft at 28 %). */
const LINEAR_SHARE = 0.1;

/** Read once for each settled tree: findings and results ask for the same figures. */
const known = new WeakMap<SeatedFlex, FlexFigures>();

/** What the bars of a settled tree do; null for rigid ones. */
export function flexFigures(seated: SeatedTree): FlexFigures | null {
  const { flex } = seated;
  if (flex === null) return null;
  const found = known.get(flex) ?? readFlex(seated, flex);
  known.set(flex, found);
  return found;
}

function readFlex(seated: SeatedTree, flex: SeatedFlex): FlexFigures {
  const { setup, tree } = seated;
  const solids = solidsOf(tree, setup);
  return {
    temperatureC: barTemperatureC(setup.warmth),
    hours: setup.flex.hours,
    groundSeat: setup.flex.groundSeat,
    groundSeatNPerMm2: groundSeatOf(setup),
    bars: [barGive(seated, flex, solids, 0), barGive(seated, flex, solids, 1)],
    bentNmm: flex.seat.bentNmm,
    zones: zoneLoads(seated),
  };
}

/** Vertical force by zone of the bars: also for rigid ones, to compare with. N */
export function zoneLoads({ tree, samples, seat }: SeatedTree): FlexFigures['zones'] {
  const ends = zoneEnds(tree.parts, treeLengthMm(tree));
  const loads = [0, 0, 0, 0, 0];
  for (let i = 0; i < samples.count; i++) {
    const p = seat.pressureMPa[i]!;
    if (!(p > 0)) continue;
    const zone = ends.findIndex((end) => samples.bMm[i]! < end);
    loads[zone < 0 ? 4 : zone]! += p * samples.areaMm2[i]! * seat.rows.normal[3 * i + 2]!;
  }
  return ZONES.map((name, i) => ({ name, loadN: loads[i]! }));
}

const ZONES: readonly FlexZone[] = ['front tip', "fork's foot", 'between', "cantle's foot", 'rear tip'];

function zoneEnds(parts: SeatedTree['tree']['parts'], lengthMm: number): number[] {
  const [fork, cantle] = [footOf(parts, 'fork'), footOf(parts, 'cantle')];
  return [fork[0], fork[1], cantle[0], cantle[1], lengthMm];
}

function barGive(seated: SeatedTree, flex: SeatedFlex, solids: SolidsUsed, which: 0 | 1): BarGive {
  const side = which === 0 ? 'left' : 'right';
  const length = treeLengthMm(seated.tree);
  const [fork, cantle] = [footOf(seated.tree.parts, 'fork'), footOf(seated.tree.parts, 'cantle')];
  const middle = greatestMove(seated, which, fork[1], cantle[0]);
  return {
    side,
    tips: [
      tipGive(seated, flex, solids, which, 'front', 0, fork[0]),
      tipGive(seated, flex, solids, which, 'rear', cantle[1], length),
    ],
    middleMm: middle.mm,
    middleAtMm: middle.bMm,
  };
}

function tipGive(
  seated: SeatedTree,
  { bars, seat }: SeatedFlex,
  solids: SolidsUsed,
  which: 0 | 1,
  end: 'front' | 'rear',
  fromMm: number,
  toMm: number,
): TipGive {
  const freeMm = toMm - fromMm;
  const strain: GreatestStrain = greatestStrain(bars[which], seat.flex[which], fromMm, toMm);
  const greatest = greatestMove(seated, which, fromMm, toMm);
  const ofFreePercent = freeMm > 0 ? (100 * Math.abs(greatest.mm)) / freeMm : 0;
  const { material } = solids.tip;
  return {
    end,
    freeMm,
    moveMm: edgeMove(seated, which, end),
    greatestMm: greatest.mm,
    ofFreePercent,
    beyondLinear: ofFreePercent > 100 * LINEAR_SHARE,
    rootStrainPercent: 100 * strain.strain,
    rootStrainAtMm: strain.bMm,
    strainLimitPercent: material.strainLimitPercent,
    strainSource: material.strainSource,
    loadN: zoneLoad(seated, which, fromMm, toMm),
  };
}

/** Move of a cell square to the underside, + away from the horse. */
function moveOf({ samples, flex }: SeatedTree, i: number): number {
  const { movedMm } = flex!.seat;
  const { normals } = samples;
  return -(
    movedMm[3 * i]! * normals[3 * i]! +
    movedMm[3 * i + 1]! * normals[3 * i + 1]! +
    movedMm[3 * i + 2]! * normals[3 * i + 2]!
  );
}

function greatestMove(seated: SeatedTree, which: 0 | 1, fromMm: number, toMm: number): { mm: number; bMm: number } {
  const { samples } = seated;
  const { from, to } = samples.bars[which];
  let most = { mm: 0, bMm: fromMm };
  for (let i = from; i < to; i++) {
    const b = samples.bMm[i]!;
    if (b < fromMm || b > toMm || samples.areaMm2[i] === 0) continue;
    const mm = moveOf(seated, i);
    if (Math.abs(mm) > Math.abs(most.mm)) most = { mm, bMm: b };
  }
  return most;
}

function edgeMove(seated: SeatedTree, which: 0 | 1, end: 'front' | 'rear'): number {
  const { samples } = seated;
  const { from, to } = samples.bars[which];
  const row = end === 'front' ? from : to - samples.columns;
  return moveOf(seated, row + Math.floor(samples.columns / 2));
}

function zoneLoad({ samples, seat }: SeatedTree, which: 0 | 1, fromMm: number, toMm: number): number {
  const { from, to } = samples.bars[which];
  let sum = 0;
  for (let i = from; i < to; i++) {
    const b = samples.bMm[i]!;
    const p = seat.pressureMPa[i]!;
    if (b >= fromMm && b <= toMm && p > 0) sum += p * samples.areaMm2[i]! * seat.rows.normal[3 * i + 2]!;
  }
  return sum;
}
