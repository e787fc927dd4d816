import {
  type BarProfile,
  createMapGrid,
  type Fit,
  type FitResult,
  fitTree,
  lengthwiseProfile,
  type MapGrid,
  putLegsForward,
  readPattern,
  readSetup,
  treeLengthMm,
} from '@barwright/geometry';
import { benchOf, type OnBench } from '../shoulder/bench-of.ts';
import type { Begun, Step } from '../sizing/step-run.ts';

/** One of the results to be compared. */
export interface ComparedInput {
  readonly id: string;
  readonly on: OnBench;
}

type Both<T> = { readonly left: T; readonly right: T };

/** One result as it is drawn and told. Horse frame, mm, kPa. */
export interface ComparedView {
  readonly id: string;
  readonly result: FitResult;
  readonly lengthMm: number;
  readonly frontMm: number;
  readonly flareFrontMm: number;
  readonly flareRearMm: number;
  /** Loaded and laid on. */
  readonly profiles: Both<BarProfile>;
  readonly laidOnProfiles: Both<BarProfile>;
  readonly maps: Readonly<Record<MapKind, Both<MapGrid>>>;
  readonly back: {
    readonly name: string;
    readonly kind: string;
    readonly usable: { readonly fromXMm: number; readonly toXMm: number };
    readonly lowPointXMm: number;
    readonly uncertaintyMm: number;
    readonly uncertaintyDeg: number;
  };
}

/** Pressure is always under the rider. */
export type MapKind = 'clearance' | 'laidOn' | 'pressure';

/** Results held ready, so that a change on the bench does not settle the kept ones again. */
const HELD = 4;
let held: readonly { readonly key: string; readonly fit: Fit }[] = [];
/** Runs that may be asked on: Compare's, a handout's, and those that each has just replaced. */
const MOST_GOING = 4;
let going: readonly { readonly id: number; readonly inputs: readonly ComparedInput[]; done: number }[] = [];
let lastId = 0;

/** The very numbers of the command line's comparison: fitTree from scratch, causes left out. */
export async function comparedFit(on: OnBench): Promise<Fit> {
  const key = JSON.stringify([on.backId, on.pattern, on.setup]);
  const known = held.find((one) => one.key === key);
  if (known !== undefined) return known.fit;
  const setup = readSetup(on.setup);
  const { tree, standing } = await benchOf({ ...on, pattern: readPattern(on.pattern), setup });
  const fit = fitTree(tree, putLegsForward(standing, setup.legForward), setup, { detail: 'findings' });
  held = [...held, { key, fit }].slice(-HELD);
  return fit;
}

export function viewCompared(id: string, { seated, laidOn, result }: Fit): ComparedView {
  const { back, tree } = seated;
  const { shape } = tree.right;
  const { bladeEdgeLeft, bladeEdgeRight, lastRib, lowPoint } = back.landmarks;
  const profiles = (of: typeof seated): Both<BarProfile> => ({
    left: lengthwiseProfile(of, 'left'),
    right: lengthwiseProfile(of, 'right'),
  });
  const map = (of: typeof seated, quantity: 'clearance' | 'pressure'): Both<MapGrid> => ({
    left: createMapGrid(of, 'left', quantity),
    right: createMapGrid(of, 'right', quantity),
  });
  return {
    id,
    result,
    lengthMm: treeLengthMm(tree),
    frontMm: seated.setup.setPositionMm,
    flareFrontMm: shape.flareZoneFrontMm,
    flareRearMm: shape.flareZoneRearMm,
    profiles: profiles(seated),
    laidOnProfiles: profiles(laidOn),
    maps: { clearance: map(seated, 'clearance'), laidOn: map(laidOn, 'clearance'), pressure: map(seated, 'pressure') },
    back: {
      name: back.name,
      kind: back.kind,
      usable: { fromXMm: Math.max(bladeEdgeLeft[0], bladeEdgeRight[0]), toXMm: lastRib[0] },
      lowPointXMm: lowPoint[0],
      uncertaintyMm: back.measured.uncertaintyMm,
      uncertaintyDeg: back.measured.uncertaintyDeg,
    },
  };
}

export const compareService = {
  compareBegin(inputs: readonly ComparedInput[]): Begun {
    const id = ++lastId;
    going = [...going, { id, inputs, done: 0 }].slice(-MOST_GOING);
    return { id, total: inputs.length };
  },

  /** The next result; null where later runs have taken its place. */
  async compareNext(id: number): Promise<Step<ComparedView> | null> {
    const run = going.find((one) => one.id === id);
    if (run === undefined) return null;
    const input = run.inputs[run.done];
    if (input === undefined) return { done: run.done, isEnd: true, parts: [] };
    const view = viewCompared(input.id, await comparedFit(input.on));
    run.done++;
    return { done: run.done, isEnd: run.done === run.inputs.length, parts: [view] };
  },
};
