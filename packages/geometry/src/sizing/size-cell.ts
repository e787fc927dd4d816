import type { BackSurface } from '../back/index.ts';
import { buildTree, type Tree, treeLengthMm } from '../bar/index.ts';
import {
  type FindingCode,
  fitSlopes,
  fittedRock,
  type Observation,
  observeAll,
  readTree,
  usableBarLength,
} from '../findings/index.ts';
import { type CaseBacks, type RidingCase, rideCase } from '../motion/index.ts';
import { resolvePattern } from '../pattern/index.ts';
import {
  bearingCapacity,
  loadNewtons,
  type SeatStatus,
  type Setup,
  type SolvedCapacity,
  seatTree,
} from '../seating/index.ts';
import type { Rider } from './rider-schema.ts';
import type { Shelf, ShelfChoice } from './shelf-schema.ts';

/** What one case of riding showed. */
export interface SizeCase {
  readonly name: string;
  readonly status: SeatStatus;
  readonly meanPressureKPa: number;
  readonly p95PressureKPa: number;
  readonly peakPressureKPa: number;
  readonly findings: readonly SizeFinding[];
}

export interface SizeFinding {
  readonly code: FindingCode;
  readonly side: 'left' | 'right' | 'both';
  readonly sizeMm: number;
  /** Size over its rule: 1 just meets it. */
  readonly ratio: number;
}

/** First load at which a limit is reached, with the pad the tree is meant for and with none. N; null where none is. */
export interface SizeCapacity {
  readonly ruleOfThumbN: number;
  readonly withPad: SolvedCapacity;
  readonly withoutPad: SolvedCapacity | null;
  readonly padLabel: string;
}

/** One tree of the shelf on this back under this rider. */
export interface SizeCell {
  readonly seat: string;
  readonly seatMm: number;
  readonly width: string;
  readonly tip: string;
  readonly bars: ShelfChoice['bars'];
  readonly barLengthMm: number;
  /** Longest bar whose bearing ends at the last rib, in this set position. */
  readonly roomMm: number;
  readonly cases: readonly SizeCase[];
  /** The finding furthest over its rule, of all cases; null when there is none. */
  readonly worst: (SizeFinding & { readonly inCase: string }) | null;
  /** Rider, gear and saddle, still. */
  readonly loadN: number;
  readonly capacity: SizeCapacity;
  /** What would lie as the back does: laid on, standing. Degrees by station front to rear, and mm; null off the data. */
  readonly fitted: { readonly slopesDeg: readonly number[] | null; readonly rockRadiusMm: number | null };
}

/** The setup that a cell is run with: the shelf's layers, the rider's weight, the load in the seat. */
export function setupOfCell(
  setup: Setup,
  shelf: Shelf,
  rider: Rider,
  pad: Shelf['pads'][number] | null,
  bars: ShelfChoice['bars'] = null,
): Setup {
  const [tissue] = setup.layers;
  const layers = [...shelf.skirts, ...(pad === null ? [] : [pad])].map(({ label, thicknessMm, stiffnessKPaPerMm }) => ({
    name: label,
    thicknessMm,
    stiffnessKPaPerMm,
  }));
  const own = shelf.pads.length === 0 && shelf.skirts.length === 0;
  return {
    ...setup,
    layers: own ? setup.layers : [tissue!, ...layers],
    flex: bars === null ? setup.flex : { ...setup.flex, bars },
    load: { ...setup.load, riderKg: rider.massKg + rider.gearKg, at: 'seat' },
  };
}

/** Settles one tree of the shelf under every case of the rider's riding. */
export function sizeCell(
  choice: ShelfChoice,
  standing: BackSurface,
  backs: CaseBacks,
  setup: Setup,
  shelf: Shelf,
  rider: Rider,
): SizeCell {
  const tree = buildTree(resolvePattern(choice.pattern));
  const padded = setupOfCell(setup, shelf, rider, shelf.pads[0] ?? null, choice.bars);
  const cases = rider.riding.cases.map((riding) => runCase(tree, backs, padded, riding));
  return {
    seat: choice.seat,
    seatMm: choice.seatMm,
    width: choice.width,
    tip: choice.tip,
    bars: choice.bars,
    barLengthMm: treeLengthMm(tree),
    roomMm: usableBarLength(tree, standing, padded),
    cases,
    worst: worstOf(cases),
    loadN: loadNewtons({ ...padded, load: { ...padded.load, factor: 1 } }),
    capacity: capacityOf(tree, standing, setup, shelf, rider, choice.bars),
    fitted: fittedTo(tree, standing, padded),
  };
}

function runCase(tree: Tree, backs: CaseBacks, setup: Setup, riding: RidingCase): SizeCase {
  const { fit } = rideCase(tree, backs, setup, riding);
  const { meanPressureKPa, p95PressureKPa, peakPressureKPa } = fit.result.contact;
  return {
    name: riding.name,
    status: fit.result.status,
    meanPressureKPa,
    p95PressureKPa,
    peakPressureKPa,
    findings: observeAll(readTree(fit.seated, fit.laidOn)).map(describe),
  };
}

const describe = ({ code, side, sizeMm, ratio }: Observation): SizeFinding => ({ code, side, sizeMm, ratio });

function worstOf(cases: readonly SizeCase[]): SizeCell['worst'] {
  let worst: SizeCell['worst'] = null;
  for (const { name, findings } of cases) {
    for (const finding of findings) {
      if (worst === null || finding.ratio > worst.ratio) worst = { ...finding, inCase: name };
    }
  }
  return worst;
}

function capacityOf(
  tree: Tree,
  standing: BackSurface,
  setup: Setup,
  shelf: Shelf,
  rider: Rider,
  bars: ShelfChoice['bars'],
): SizeCapacity {
  const [pad] = shelf.pads;
  const solved = (with_: Shelf['pads'][number] | null) => {
    const own = setupOfCell(setup, shelf, rider, with_, bars);
    const at = (100 * tree.parts.seatLowMm) / treeLengthMm(tree);
    return bearingCapacity(seatTree(tree, standing, own), { positions: [at] });
  };
  const {
    ruleOfThumbN,
    solved: [withPad],
  } = solved(pad ?? null);
  return {
    ruleOfThumbN,
    withPad: withPad!,
    withoutPad: pad === undefined ? null : solved(null).solved[0]!,
    padLabel: pad?.label ?? 'the layers of the setup',
  };
}

function fittedTo(tree: Tree, standing: BackSurface, setup: Setup): SizeCell['fitted'] {
  const seated = seatTree(tree, standing, setup);
  const reading = readTree(seated, seatTree(tree, standing, setup, { laidOn: true, samples: seated.samples }));
  const slopes = fitSlopes(reading);
  const rock = fittedRock(tree, standing, setup.setPositionMm);
  const stations = tree.right.shape.stations;
  return {
    slopesDeg:
      slopes === null ? null : slopes.mismatchRad.map((off, i) => ((stations[i]!.slopeRad - off) * 180) / Math.PI),
    rockRadiusMm: rock === null || rock <= 0 ? null : 1 / rock,
  };
}
