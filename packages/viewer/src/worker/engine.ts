import {
  type BackSurface,
  buildBack,
  buildTree,
  fitTree,
  type Pose,
  readBack,
  readMesh,
  resolvePattern,
  type SeatedTree,
  type Setup,
  seatTree,
  type Tree,
  type TriangleMesh,
} from '@barwright/geometry';
import type { BackView, CutView, FitView } from '../contract.ts';
import type { OpenedBack } from '../state/documents.ts';
import { viewBack } from './back-view.ts';
import { cutAt } from './cut-view.ts';
import { viewBars, viewFit } from './fit-view.ts';
import { type BarsView, type ComputeService, HELD_BACKS, type Inputs } from './inputs.ts';

interface HeldBack {
  readonly id: number;
  readonly opened: OpenedBack;
  mesh: TriangleMesh | null;
  warnings: readonly string[];
  /** By which legs are forward. */
  readonly built: Map<Setup['legForward'], BackSurface>;
}

interface Prepared {
  readonly tree: Tree;
  readonly back: BackSurface;
  /** Poses of the last answer on the same back, loaded and laid on. */
  readonly start: Pose | null;
  readonly startLaidOn: Pose | null;
}

/**
 * Keeps what stays the same between edits: the back by document and legs, the tree by pattern, the last pose to start from.
 * No state of the page is kept here; every call says what it is about.
 */
export function createEngine(): ComputeService {
  let kept: readonly HeldBack[] = [];
  let tree: { readonly of: Inputs['pattern']; readonly tree: Tree } | null = null;
  let last: { readonly seated: SeatedTree; readonly laidOn: Pose | null; readonly key: string } | null = null;

  const heldFor = ({ backId, back }: Inputs): HeldBack => {
    const known = kept.find(({ id }) => id === backId);
    if (known !== undefined) return known;
    if (back === undefined) throw new Error(`back ${backId} was never sent`);
    const held: HeldBack = { id: backId, opened: back, mesh: null, warnings: [], built: new Map() };
    kept = [...kept, held].slice(-HELD_BACKS);
    return held;
  };

  const prepare = (inputs: Inputs): Prepared => {
    const held = heldFor(inputs);
    if (tree === null || tree.of !== inputs.pattern)
      tree = { of: inputs.pattern, tree: buildTree(resolvePattern(inputs.pattern)) };
    const back = backOf(held, inputs.setup.legForward);
    const near = last !== null && last.key === placeKey(inputs);
    return {
      tree: tree.tree,
      back,
      start: near ? last!.seated.seat.pose : null,
      startLaidOn: near ? last!.laidOn : null,
    };
  };

  const seat = (inputs: Inputs): SeatedTree => {
    const { tree, back, start } = prepare(inputs);
    const from = start === null ? null : placedAs(start, tree, inputs.setup);
    const seated = seatTree(tree, back, inputs.setup, from === null ? {} : { start: from });
    last = { seated, laidOn: last?.laidOn ?? null, key: placeKey(inputs) };
    return seated;
  };

  const fit = (inputs: Inputs, detail: 'figures' | 'full'): FitView => {
    const { tree, back, start, startLaidOn } = prepare(inputs);
    const found = fitTree(tree, back, inputs.setup, {
      detail,
      ...(start === null ? {} : { start: placedAs(start, tree, inputs.setup) }),
      ...(startLaidOn === null ? {} : { startLaidOn }),
    });
    last = { seated: found.seated, laidOn: found.laidOn.seat.pose, key: placeKey(inputs) };
    return viewFit(found, inputs.version, detail);
  };

  return {
    bars: (inputs): BarsView => viewBars(seat(inputs), inputs.version),
    figures: (inputs): FitView => fit(inputs, 'figures'),
    full: (inputs): FitView => fit(inputs, 'full'),
    back: (inputs): BackView => {
      const { back } = prepare(inputs);
      return viewBack(back, inputs.version, heldFor(inputs).warnings);
    },
    cut: (xMm): CutView | null => (last === null ? null : cutAt(last.seated, xMm)),
  };
}

/** A pose helps as a start only on the same back. */
const placeKey = ({ backId, setup }: Inputs): string => `${backId} ${setup.legForward} ${setup.path}`;

/** Height, pitch and roll of an earlier pose at the place that the setup holds. */
function placedAs(pose: Pose, tree: Tree, setup: Setup): Pose {
  return {
    ...pose,
    xMm: setup.setPositionMm + tree.right.shape.rockLowPointMm,
    yMm: setup.shiftMm,
    yawRad: (setup.yawDeg * Math.PI) / 180,
  };
}

function backOf(held: HeldBack, legs: Setup['legForward']): BackSurface {
  const known = held.built.get(legs);
  if (known !== undefined) return known;
  const document = readBack(held.opened.json, held.opened.name);
  if (held.opened.mesh !== null && held.mesh === null) {
    const raw = readMesh(held.opened.mesh.bytes, held.opened.mesh.fileName);
    held.mesh = raw.mesh;
    held.warnings = raw.warnings;
  }
  const back = buildBack(document, { legForward: legs, ...(held.mesh === null ? {} : { mesh: held.mesh }) });
  held.built.set(legs, back);
  return back;
}
