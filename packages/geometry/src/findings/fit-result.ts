import type { PathAccuracy } from '../back/index.ts';
import type {
  Capacity,
  ContactFigures,
  FlexFigures,
  GapFigures,
  MaterialUsed,
  Mismatch,
  SeatStatus,
  SpineClearance,
  TipFigures,
} from '../seating/index.ts';

/** What can be said of a seating. No verdicts: a finding is a place and a size. */
export type FindingCode =
  | 'bridging'
  | 'rocking'
  | 'inner-edge-bearing'
  | 'outer-edge-bearing'
  | 'too-steep'
  | 'too-flat'
  | 'pressure-point'
  | 'layer-solid'
  | 'past-last-rib'
  | 'blade-under-tip'
  | 'low-spine-clearance'
  | 'over-flex'
  | 'sensitive-to-set-position'
  | 'off-the-data'
  | 'cannot-tell';

export type CauseName =
  | 'length'
  | 'rock'
  | 'slope front'
  | 'slope rear'
  | 'twist'
  | 'spread'
  | 'flare'
  | 'set position'
  | 'load position'
  | 'layers'
  | 'asymmetry';

/** One value (or several that act together) set to the back's own fitted one, all else held, and re-run. */
export interface Cause {
  /** Names joined by ' + ' when they act together. */
  readonly cause: string;
  readonly names: readonly CauseName[];
  readonly sizeMm: number;
  readonly sizeWithoutMm: number;
}

export interface Finding {
  readonly code: FindingCode;
  readonly side: 'left' | 'right' | 'both';
  /** Where, mm behind the blade edge. */
  readonly fromMm: number;
  readonly toMm: number;
  readonly sizeMm: number;
  /** Most telling first; empty when causes were not asked for. */
  readonly causes: readonly Cause[];
  /** One plain sentence. */
  readonly sentence: string;
  /** true where the size is within the back's measuring error of the rule it is compared with. */
  readonly withinMeasuringError: boolean;
}

/** The result of `fit` (DESIGN 7). Lengths mm, pressures kPa, forces N, horse frame. */
export interface FitResult {
  readonly status: SeatStatus;
  readonly pose: {
    readonly heightMm: number;
    readonly pitchDeg: number;
    readonly rollDeg: number;
    readonly shiftMm: number;
    readonly yawDeg: number;
    readonly barToHorse: readonly number[];
  };
  readonly load: {
    readonly appliedN: number;
    readonly supportedN: number;
    readonly residualN: number;
    readonly residualMomentNmm: number;
  };
  /** What must be held for the tree to stay: on the tree, through atMm (the bar frame origin). */
  readonly reactions: {
    readonly xN: number;
    readonly yN: number;
    readonly aboutZNmm: number;
    readonly atMm: readonly [number, number, number];
  };
  readonly contact: ContactFigures;
  readonly gap: GapFigures;
  readonly mismatch: Mismatch;
  readonly spine: SpineClearance;
  /** Front tips, left first. */
  readonly tips: readonly [TipFigures, TipFigures];
  /** What flexible bars do; null for rigid ones. */
  readonly flex: FlexFigures | null;
  /** What layers and flexible bars are made of, as warm and as old as they were, with sources. */
  readonly materials: readonly MaterialUsed[];
  readonly findings: readonly Finding[];
  /** null when not asked for. */
  readonly capacity: Capacity | null;
  readonly coverage: { readonly excludedFraction: number; readonly excludedCm2: number };
  readonly accuracy: {
    readonly path: 'fast' | 'exact';
    readonly boundMm: number;
    readonly boundKPa: number;
    /** Largest change of contact area, mean and p95 against a grid of half the rows and columns, percent. */
    readonly gridErrorPercent: number | null;
    readonly smoothingMm: number;
    readonly fast: PathAccuracy | null;
  };
  readonly stability: { readonly lowestEigenvalue: number; readonly unit: 'N/mm'; readonly leverMm: number };
  readonly frame: { readonly fileToHorse: readonly number[] };
}
