import type { BackSurface } from '../back/index.ts';
import { type ShimShape, shimUnderside, type Tree, type Underside } from '../bar/index.ts';
import type { Setup } from './setup-schema.ts';
import { shimLift } from './shim-lift.ts';
import type { Shim } from './shim-schema.ts';

type Side = 'left' | 'right';

/** What was shimmed with which list, so that the same is made once and nothing is shimmed twice. */
const bars = new WeakMap<Underside, Map<string, Underside>>();
const backs = new WeakMap<BackSurface, Map<string, BackSurface>>();
const bareBacks = new WeakMap<BackSurface, BackSurface>();

/**
 * Tree and back with the setup's shims: those of the bar on the undersides, those of the horse on the back. The same objects
 * come back for the same shims, and for what was shimmed with them before; without shims the given ones.
 */
export function applyShims(
  tree: Tree,
  back: BackSurface,
  setup: Pick<Setup, 'shims'>,
): { readonly tree: Tree; readonly back: BackSurface } {
  return { tree: shimTree(tree, setup), back: shimBack(back, setup) };
}

/** The tree with the shims that are fixed to its bars. */
export function shimTree(tree: Tree, { shims }: Pick<Setup, 'shims'>): Tree {
  const left = shimmed(tree.left, shapes(shims, 'bar', 'left'));
  const right = shimmed(tree.right, shapes(shims, 'bar', 'right'));
  return left === tree.left && right === tree.right ? tree : { ...tree, left, right };
}

/** The back as it was before `applyShims` laid shims on it; any other back itself. */
export const withoutShims = (back: BackSurface): BackSurface => bareBacks.get(back) ?? back;

function shimmed(bar: Underside, pieces: readonly ShimShape[]): Underside {
  return pieces.length === 0 ? bar : once(bars, bar, JSON.stringify(pieces), () => shimUnderside(bar, pieces));
}

function shimBack(back: BackSurface, { shims }: Pick<Setup, 'shims'>): BackSurface {
  const pieces = (['left', 'right'] as const).flatMap((side) =>
    shapes(shims, 'horse', side).map((shape) => ({ shape, side })),
  );
  const lift = (): BackSurface => {
    const lifted = back.lifted(shimLift(back, pieces)!);
    bareBacks.set(lifted, back);
    return lifted;
  };
  return pieces.length === 0 ? back : once(backs, back, JSON.stringify(pieces), lift);
}

function shapes(shims: readonly Shim[], fixedTo: Shim['fixedTo'], side: Side): ShimShape[] {
  return shims
    .filter((shim) => shim.fixedTo === fixedTo && (shim.side === 'both' || shim.side === side))
    .map(({ fromMm, toMm, innerMm, outerMm, thicknessMm, rampMm }) => ({
      ...{ fromMm, toMm, innerMm, outerMm, thicknessMm, rampMm },
    }));
}

function once<T extends object>(made: WeakMap<T, Map<string, T>>, of: T, key: string, make: () => T): T {
  const known = made.get(of) ?? new Map<string, T>();
  const found = known.get(key);
  if (found !== undefined) return found;
  const result = make();
  // A stretch of dragging asks for many thicknesses; the latest few are kept.
  if (known.size >= 8) known.clear();
  made.set(of, known.set(key, result));
  made.set(result, new Map([[key, result]]));
  return result;
}
