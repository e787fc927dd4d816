import {
  type BackSurface,
  type Blades,
  contactFigures,
  probeTree,
  type SeatedTree,
  type Side,
  type Stride,
  type StridePhase,
  type StrideStep,
  seatTree,
  solveTip,
  stepStride,
  strideOf,
  type TipFigures,
  type TipSolution,
  tipFigures,
} from '@barwright/geometry';
import type { BackView } from '../../contract.ts';
import { viewBack } from '../../worker/back-view.ts';
import { benchOf, type OnBench } from './bench-of.ts';
import { type Beside, setupBeside } from './beside.ts';
import { type DrawnTree, drawTree, type MovedBack, patchReader } from './drawn-seat.ts';

/** Clearance of one bar's underside along its front, to the layers' top, + clear, - squeeze; NaN without data. mm. */
export interface FrontGap {
  readonly bMm: Float64Array;
  readonly gapMm: Float64Array;
}

/** How a stride is run. */
export interface StrideRun {
  readonly phases: number;
  /** Cells of both bars; null: as the setup says. */
  readonly samples: number | null;
  /** Not as the bench is, but what can be set beside it; null: as the bench is. */
  readonly beside: Beside | null;
  /** With bars and back to draw at every phase. */
  readonly isDrawn: boolean;
}

export interface StrideBegun {
  readonly id: number;
  readonly stride: Stride;
  readonly blades: Blades;
  /** The back as it stood, and the tree on it, for comparison. */
  readonly back: BackView;
  readonly standing: {
    readonly tips: readonly [TipFigures, TipFigures];
    readonly front: readonly [FrontGap, FrontGap];
    readonly peakKPa: number;
  };
  readonly layersMm: number;
}

export interface StrideFrame {
  readonly phase: StridePhase;
  readonly front: readonly [FrontGap, FrontGap];
  readonly drawn: DrawnTree | null;
  /** null where nothing is drawn, or where the back is that of an earlier phase: the one as far from the stride's end. */
  readonly back: MovedBack | null;
}

interface Going {
  readonly id: number;
  readonly run: StrideRun;
  readonly steps: Generator<StrideStep>;
  readonly read: ((back: BackSurface) => MovedBack) | null;
  readonly seen: Set<BackSurface>;
}

const FRONT_MM = 120;
const FRONT_STEP_MM = 4;

let going: Going | null = null;
let lastId = 0;

/** The stride is asked for phase by phase, so that newer inputs replace a run at any of them and nothing has to be stopped. */
export const shoulderService = {
  async strideBegin(on: OnBench, run: StrideRun): Promise<StrideBegun> {
    const { tree, standing } = await benchOf(on);
    const stride = strideOf(standing, { phases: run.phases });
    const asked = run.beside === null ? on.setup : setupBeside(on.setup, run.beside);
    const setup = { ...asked, samples: run.samples ?? asked.samples };
    const still = seatTree(tree, standing, setup);
    const id = ++lastId;
    going = {
      id,
      run,
      steps: stepStride(tree, standing, setup, stride),
      read: run.isDrawn ? patchReader(standing) : null,
      seen: new Set(),
    };
    return {
      id,
      stride,
      blades: standing.blades,
      back: viewBack(standing, id, []),
      standing: {
        tips: tipFigures(still),
        front: frontGaps(still),
        peakKPa: contactFigures(still).peakPressureKPa,
      },
      layersMm: still.stack.thicknessMm,
    };
  },

  /** The next phase of a run; null at its end, or where another run has taken its place. */
  strideNext(id: number): StrideFrame | null {
    if (going?.id !== id) return null;
    const next = going.steps.next();
    if (next.done === true) return null;
    const { phase, seated } = next.value;
    const isNew = !going.seen.has(seated.back);
    going.seen.add(seated.back);
    return {
      phase,
      front: frontGaps(seated),
      drawn: going.run.isDrawn ? drawTree(seated) : null,
      back: going.read !== null && isNew ? going.read(seated.back) : null,
    };
  },

  /** The lift that one zone length needs for a wanted clearance, beside the tip as it is. */
  async tipThatClears(on: OnBench, wantedMm: number, zonesMm: readonly number[]): Promise<TipSolution> {
    const { tree, standing } = await benchOf(on);
    return solveTip(tree, standing, on.setup, strideOf(standing), { wantedMm, zonesMm });
  },
};

const frontGaps = (seated: SeatedTree): [FrontGap, FrontGap] => [frontGap(seated, 'left'), frontGap(seated, 'right')];

/** On the bearing line, from just inside the tip edge. */
function frontGap({ loaded: tree, seat, back, setup, stack }: SeatedTree, side: Side): FrontGap {
  const bMm = Float64Array.from({ length: FRONT_MM / FRONT_STEP_MM + 1 }, (_, i) => Math.max(2, i * FRONT_STEP_MM));
  const places = Array.from(bMm, (b) => ({ bMm: b, across: 'bearing' as const }));
  const { rows } = probeTree(tree, side, seat.pose, back, setup.path, places);
  return {
    bMm,
    gapMm: bMm.map((_, i) => (rows.hasData[i] === 1 ? rows.distanceMm[i]! - stack.thicknessMm : Number.NaN)),
  };
}
