import {
  type BackSurface,
  buildBack,
  buildTree,
  type FlexState,
  fitTree,
  type GlbDecoders,
  hearingPhases,
  type Pose,
  putLegsForward,
  READ_LIMITS,
  readBack,
  readMesh,
  resolvePattern,
  type SeatedTree,
  type SeatTreeOptions,
  type Setup,
  seatTree,
  type Tree,
  type TriangleMesh,
} from '@barwright/geometry';
import type { BackView, CutView, FitView } from '../contract.ts';
import type { OpenedBack } from '../state/documents.ts';
import type { Progress } from '../state/result-state.ts';
import { viewBack } from './back-view.ts';
import { cutAt } from './cut-view.ts';
import { viewBars, viewFit } from './fit-view.ts';
import { type BarsView, type ComputeService, HELD_BACKS, type Inputs } from './inputs.ts';

interface HeldBack {
  readonly id: number;
  readonly name: string;
  readonly json: OpenedBack['json'];
  /** Its bytes until they are read: they are as large as what is read from them. */
  file: OpenedBack['mesh'];
  readonly decoders: GlbDecoders;
  mesh: TriangleMesh | null;
  warnings: readonly string[];
  /** As it stood, and with legs forward. */
  standing: BackSurface | null;
  readonly forward: Map<Setup['legForward'], BackSurface>;
}

interface Prepared {
  readonly tree: Tree;
  readonly back: BackSurface;
  /** Where the last answer on the same back stood, loaded and laid on. */
  readonly start: Start | null;
  readonly startLaidOn: Pose | null;
}

/** A pose to start from, and how flexible bars were bent there. */
interface Start {
  readonly pose: Pose;
  readonly flex: FlexState | null;
}

export type ProgressListener = (progress: Progress) => void;

/** Where each phase begins on the way to the first fit, as measured on a scan of a million triangles. */
const BEGINS = Object.freeze({ reading: 0, cleaning: 0.1, shaping: 0.45, seating: 0.9, end: 1 });

/**
 * Keeps what stays the same between edits: the back by document and legs, the tree by pattern, the last pose to start from.
 * No state of the page is kept here; every call says what it is about. `told` hears how far the opening of a scan is.
 */
export function createEngine(told: ProgressListener = () => undefined): ComputeService {
  let kept: readonly HeldBack[] = [];
  let tree: { readonly of: Inputs['pattern']; readonly tree: Tree } | null = null;
  let last: { readonly seated: SeatedTree; readonly laidOn: Pose | null; readonly of: Inputs } | null = null;
  /** Where bars that bend were last seated quickly, on the way to a result: never a result itself. */
  let passing: { readonly seated: SeatedTree; readonly of: Inputs } | null = null;

  const heldFor = ({ backId, back, decoders = {} }: Inputs): HeldBack => {
    const known = kept.find(({ id }) => id === backId);
    if (known !== undefined) return known;
    if (back === undefined) throw new Error(`back ${backId} was never sent`);
    const { name, json, mesh: file } = back;
    const held: HeldBack = {
      id: backId,
      name,
      json,
      file,
      decoders,
      mesh: null,
      warnings: [],
      standing: null,
      forward: new Map(),
    };
    kept = [...kept, held].slice(-HELD_BACKS);
    return held;
  };

  const prepare = (inputs: Inputs): Prepared => {
    const held = heldFor(inputs);
    if (tree === null || tree.of !== inputs.pattern)
      tree = { of: inputs.pattern, tree: buildTree(resolvePattern(inputs.pattern)) };
    const back = backOf(held, inputs.setup.legForward, told);
    const near = last !== null && placeKey(last.of) === placeKey(inputs);
    return {
      tree: tree.tree,
      back,
      start: near ? standing(last!.seated) : null,
      startLaidOn: near ? last!.laidOn : null,
    };
  };

  const seat = (inputs: Inputs): SeatedTree => {
    const { tree, back, start } = prepare(inputs);
    if (inputs.setup.flex.bars === 'flexible') {
      const near = passing !== null && placeKey(passing.of) === placeKey(inputs) ? standing(passing.seated) : start;
      const seated = seatTree(tree, back, inputs.setup, { ...startOf(near, tree, inputs.setup), quick: true });
      passing = { seated, of: inputs };
      return seated;
    }
    const seated = seatTree(tree, back, inputs.setup, startOf(start, tree, inputs.setup));
    last = { seated, laidOn: last?.laidOn ?? null, of: inputs };
    passing = null;
    return seated;
  };

  const fit = (inputs: Inputs, detail: 'figures' | 'full'): FitView => {
    const { tree, back, start, startLaidOn } = prepare(inputs);
    const found = fitTree(tree, back, inputs.setup, {
      detail,
      ...(last !== null && isSame(last.of, inputs) ? { seated: last.seated } : {}),
      ...startOf(start, tree, inputs.setup),
      ...(startLaidOn === null ? {} : { startLaidOn }),
    });
    last = { seated: found.seated, laidOn: found.laidOn.seat.pose, of: inputs };
    passing = null;
    return viewFit(found, inputs.version, detail);
  };

  return {
    bars: (inputs): BarsView => viewBars(seat(inputs), inputs.version, passing !== null),
    figures: (inputs): FitView => fit(inputs, 'figures'),
    full: (inputs): FitView => fit(inputs, 'full'),
    back: (inputs): BackView => {
      const { back } = prepare(inputs);
      return viewBack(back, inputs.version, heldFor(inputs).warnings);
    },
    cut: (xMm): CutView | null => {
      const shown = passing ?? last;
      return shown === null ? null : cutAt(shown.seated, xMm);
    },
  };
}

const standing = ({ seat, flex }: SeatedTree): Start => ({ pose: seat.pose, flex: flex?.seat.flex ?? null });

/** A pose helps as a start only on the same back. */
const placeKey = ({ backId, setup }: Inputs): string => `${backId} ${setup.legForward} ${setup.path}`;

/** Whether both ask about the same documents: every change of them counts the version up. */
const isSame = (a: Inputs, b: Inputs): boolean => a.version === b.version && a.backId === b.backId;

/** As the options of a seating or a fit take it. */
const startOf = (start: Start | null, tree: Tree, setup: Setup): Pick<SeatTreeOptions, 'start' | 'startFlex'> =>
  start === null
    ? {}
    : { start: placedAs(start.pose, tree, setup), ...(start.flex === null ? {} : { startFlex: start.flex }) };

/** Height, pitch and roll of an earlier pose at the place that the setup holds. */
function placedAs(pose: Pose, tree: Tree, setup: Setup): Pose {
  return {
    ...pose,
    xMm: setup.setPositionMm + tree.right.shape.rockLowPointMm,
    yMm: setup.shiftMm,
    yawRad: (setup.yawDeg * Math.PI) / 180,
  };
}

function backOf(held: HeldBack, legs: Setup['legForward'], told: ProgressListener): BackSurface {
  held.standing ??= standingOf(held, told);
  const back = held.forward.get(legs) ?? putLegsForward(held.standing, legs);
  held.forward.set(legs, back);
  return back;
}

function standingOf(held: HeldBack, told: ProgressListener): BackSurface {
  const document = readBack(held.json, held.name);
  readScan(held, told);
  const { mesh } = held;
  if (mesh === null) return buildBack(document);
  const tell = mesh.triangles.length > TOLD_FROM_INDICES ? told : () => undefined;
  const back = hearingPhases(
    (phase, share) => tell({ phase, fraction: part(BEGINS[phase], ENDS[phase], share) }),
    () => buildBack(document, { mesh }),
  );
  tell({ phase: 'seating', fraction: BEGINS.seating });
  // The back has its own; the file's is not needed again.
  held.mesh = null;
  return back;
}

/** Smaller scans open before a word could be read. */
const TOLD_FROM_INDICES = 300_000;
const TOLD_FROM_BYTES = 2_000_000;

const ENDS = Object.freeze({ cleaning: BEGINS.shaping, shaping: BEGINS.seating });

const part = (from: number, to: number, share: number): number => from + share * (to - from);

function readScan(held: HeldBack, told: ProgressListener): void {
  if (held.file === null) return;
  if (held.file.bytes.length > TOLD_FROM_BYTES) told({ phase: 'reading', fraction: BEGINS.reading });
  const raw = readMesh(held.file.bytes, held.file.fileName, READ_LIMITS, held.decoders);
  held.mesh = raw.mesh;
  held.warnings = raw.warnings;
  held.file = null;
}
