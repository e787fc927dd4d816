import type { BackSurface } from '../back/index.ts';
import { sampleBars, type Tree } from '../bar/index.ts';
import {
  type ContactFigures,
  contactFigures,
  type Pose,
  type SeatedTree,
  type SeatStatus,
  type Setup,
  seatTree,
  shimTree,
  type TipFigures,
  tipFigures,
} from '../seating/index.ts';
import { bladesAt, createStridingBack, type Stride } from './stride.ts';

const DEGREES = 180 / Math.PI;

/** The tree at one moment of the stride, settled anew. Horse frame, mm, degrees, kPa, N. */
export interface StridePhase {
  readonly phase: number;
  readonly bladeLeftMm: number;
  readonly bladeRightMm: number;
  readonly status: SeatStatus;
  readonly heightMm: number;
  readonly pitchDeg: number;
  readonly rollDeg: number;
  readonly appliedN: number;
  readonly supportedN: number;
  readonly contact: Pick<
    ContactFigures,
    'areaCm2' | 'meanPressureKPa' | 'p95PressureKPa' | 'peakPressureKPa' | 'shareFront' | 'shareLeft' | 'shareRight'
  >;
  /** Front tips, left first. */
  readonly tips: readonly [TipFigures, TipFigures];
}

/** The least clearance of one front tip over the stride, and the most pressure under it. */
export interface TipOverStride {
  readonly side: 'left' | 'right';
  /** Least of the tip edge's three heights, and when; null where the tip is off the data. */
  readonly leastGapMm: number | null;
  readonly leastGapPhase: number | null;
  readonly highestPressureKPa: number;
  readonly highestPressurePhase: number;
  /** Largest share of the load that the tip zone carries. */
  readonly mostLoadN: number;
}

export interface StrideResult {
  readonly stride: Stride;
  readonly phases: readonly StridePhase[];
  readonly tips: readonly [TipOverStride, TipOverStride];
  /** The phase with the least clearance of either tip. */
  readonly worstPhase: number;
}

/**
 * Carries the blades through one stride and lets the tree settle at every phase, each from the one before. `standing` is
 * the back with its blades where the horse stood. Quasi-static: no inertia, no muscle, no skin sliding.
 */
export function rideStride(tree: Tree, standing: BackSurface, setup: Setup, stride: Stride): StrideResult {
  return summariseStride(
    stride,
    Array.from(stepStride(tree, standing, setup, stride), ({ phase }) => phase),
  );
}

/** One moment with the seating that it was read from. */
export interface StrideStep {
  readonly phase: StridePhase;
  readonly seated: SeatedTree;
}

/** The stride one phase at a time, for those who draw each or stop in between; what `rideStride` runs to its end. */
export function* stepStride(tree: Tree, standing: BackSurface, setup: Setup, stride: Stride): Generator<StrideStep> {
  const backAt = createStridingBack(standing, stride);
  const { left, right } = shimTree(tree, setup);
  const samples = sampleBars(left, right, { samples: setup.samples });
  let start: Pose | null = null;
  for (let i = 0; i < stride.phases; i++) {
    const phase = i / stride.phases;
    const seated = seatTree(tree, backAt(phase), setup, { samples, ...(start === null ? {} : { start }) });
    start = seated.status === 'settled' ? seated.seat.pose : null;
    yield { phase: describePhase(seated, phase, stride), seated };
  }
}

/** What the phases of a stride come to, also of one that is not finished. */
export function summariseStride(stride: Stride, phases: readonly StridePhase[]): StrideResult {
  const tips = [overStride(phases, 0), overStride(phases, 1)] as const;
  return { stride, phases, tips, worstPhase: worstOf(tips) };
}

function describePhase(seated: SeatedTree, phase: number, stride: Stride): StridePhase {
  const { pose } = seated.seat;
  const { leftMm, rightMm } = bladesAt(stride, phase);
  const { areaCm2, meanPressureKPa, p95PressureKPa, peakPressureKPa, shareFront, shareLeft, shareRight } =
    contactFigures(seated);
  return {
    phase,
    bladeLeftMm: leftMm,
    bladeRightMm: rightMm,
    status: seated.status,
    heightMm: pose.zMm,
    pitchDeg: pose.pitchRad * DEGREES,
    rollDeg: pose.rollRad * DEGREES,
    appliedN: seated.loadN,
    supportedN: verticalNewtons(seated),
    contact: { areaCm2, meanPressureKPa, p95PressureKPa, peakPressureKPa, shareFront, shareLeft, shareRight },
    tips: tipFigures(seated),
  };
}

function verticalNewtons({ seat, samples }: SeatedTree): number {
  let sum = 0;
  for (let i = 0; i < samples.count; i++)
    sum += seat.pressureMPa[i]! * samples.areaMm2[i]! * seat.rows.normal[3 * i + 2]!;
  return sum;
}

/** Least of what is known of a tip edge's three heights, mm; null where all are off the data. */
export function tipEdgeGapMm({ innerGapMm, bearingGapMm, outerGapMm }: TipFigures): number | null {
  const known = [innerGapMm, bearingGapMm, outerGapMm].filter((gap) => gap !== null);
  return known.length === 0 ? null : Math.min(...known);
}

function overStride(phases: readonly StridePhase[], which: 0 | 1): TipOverStride {
  const side = which === 0 ? 'left' : 'right';
  let least: { gap: number; phase: number } | null = null;
  let most = { kPa: 0, phase: 0 };
  let mostLoadN = 0;
  for (const { phase, tips } of phases) {
    const tip = tips[which];
    const gap = tipEdgeGapMm(tip);
    if (gap !== null && (least === null || gap < least.gap)) least = { gap, phase };
    if (tip.highestPressureKPa > most.kPa) most = { kPa: tip.highestPressureKPa, phase };
    mostLoadN = Math.max(mostLoadN, tip.loadN);
  }
  return {
    side,
    leastGapMm: least?.gap ?? null,
    leastGapPhase: least?.phase ?? null,
    highestPressureKPa: most.kPa,
    highestPressurePhase: most.phase,
    mostLoadN,
  };
}

function worstOf([left, right]: readonly [TipOverStride, TipOverStride]): number {
  const gap = (tip: TipOverStride): number => tip.leastGapMm ?? Number.POSITIVE_INFINITY;
  return (gap(left) <= gap(right) ? left.leastGapPhase : right.leastGapPhase) ?? 0;
}
