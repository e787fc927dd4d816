import type { BarSamples, Tree, Underside } from '../bar/index.ts';
import {
  type BarStructure,
  buildBarStructure,
  type FlexOptions,
  type FlexTree,
  GROUND_SEAT_N_PER_MM2,
  gridOnBar,
  type ShellMesh,
} from '../flex/index.ts';
import { barTemperatureC, type SolidMaterial, type SolidState, solidAt, solidMaterial } from '../layers/index.ts';
import type { Setup } from './setup-schema.ts';

/** A place in the bar and what it is made of, as warm and as long under load as the setup says. */
export interface SolidUsed {
  readonly material: SolidMaterial;
  readonly state: SolidState;
}

export type SolidsUsed = Readonly<Record<'bar' | 'lower' | 'tip', SolidUsed>>;

/** The materials of a tree's bars under a setup. Throws InputError for a name that is not in the table. */
export function solidsOf(tree: Tree, setup: Setup): SolidsUsed {
  const at = { temperatureC: barTemperatureC(setup.warmth), hours: setup.flex.hours };
  const used = (place: 'bar' | 'lower' | 'tip'): SolidUsed => {
    const material = solidMaterial(tree.materials[place], setup.materials, `materials.${place}`);
    return { material, state: solidAt(material, at) };
  };
  return { bar: used('bar'), lower: used('lower'), tip: used('tip') };
}

/** Those that a seated tree's result rests on: none of rigid bars, no lower layer where there is none. null for rigid bars. */
export function solidsInUse(tree: Tree, setup: Setup): Readonly<Record<string, SolidUsed>> | null {
  if (setup.flex.bars === 'rigid') return null;
  const { bar, lower, tip } = solidsOf(tree, setup);
  const layered = tree.right.shape.lowerShare > 0 || tree.left.shape.lowerShare > 0;
  return layered ? { bar, lower, tip } : { bar, tip };
}

/** How firmly the setup's ground seat holds, N per mm of travel per mm of length. */
export const groundSeatOf = ({ flex }: Setup): number =>
  flex.groundSeatNPerMm2 ?? GROUND_SEAT_N_PER_MM2[flex.groundSeat];

/** Structures of bars seen lately, by their numbers: dragging pad or set position builds none anew. */
const structures = new WeakMap<Underside, Map<string, BarStructure>>();

/** Both bars as shells with the samples' cells on them, left first. */
export function flexOf(tree: Tree, samples: BarSamples, setup: Setup, mesh: ShellMesh): FlexTree {
  const solids = solidsOf(tree, setup);
  const options: FlexOptions = {
    elastic: { bar: solids.bar.state, lower: solids.lower.state, tip: solids.tip.state },
    groundSeatNPerMm2: groundSeatOf(setup),
    mesh,
  };
  const right = structureOf(tree.right, tree, options);
  const left = structureOf(tree.left, tree, options);
  return [gridOnBar(left, tree.left, samples, samples.bars[0]), gridOnBar(right, tree.right, samples, samples.bars[1])];
}

function structureOf(given: Underside, tree: Tree, options: FlexOptions): BarStructure {
  const bar = given.asMade ?? given;
  const key = JSON.stringify([options, tree.parts]);
  const known = structures.get(bar) ?? new Map<string, BarStructure>();
  structures.set(bar, known);
  const found = known.get(key);
  if (found !== undefined) return found;
  // A bar is asked for under a handful of conditions at most; older ones are let go.
  if (known.size >= 8) known.clear();
  const structure = buildBarStructure(bar, tree.parts, options);
  known.set(key, structure);
  return structure;
}
