import type { LayerStack } from '../layers/index.ts';

/** What the layers' law says of each cell: 0 where nothing presses. Arrays of one length, mm, MPa, MPa/mm, N/mm. */
export interface PressedCells {
  readonly squeezeMm: Float64Array;
  readonly pressureMPa: Float64Array;
  readonly tangent: Float64Array;
  readonly energy: Float64Array;
}

export const createPressedCells = (n: number): PressedCells => ({
  squeezeMm: new Float64Array(n),
  pressureMPa: new Float64Array(n),
  tangent: new Float64Array(n),
  energy: new Float64Array(n),
});

/** Looks every cell up in the law, for squeeze = thickness - distance where the mask is 1. Fills `out` and returns it. */
export function pressCells<T extends PressedCells = PressedCells>(
  stack: LayerStack,
  distanceMm: Float64Array,
  mask: Uint8Array,
  out: T = createPressedCells(mask.length) as T,
): T {
  squeezeAll(stack.thicknessMm, distanceMm, mask, out.squeezeMm);
  stack.law.fill(out.squeezeMm, out.pressureMPa, out.tangent, out.energy);
  return out;
}

function squeezeAll(thicknessMm: number, distanceMm: Float64Array, mask: Uint8Array, squeeze: Float64Array): void {
  for (let i = 0; i < mask.length; i++) squeeze[i] = mask[i] === 1 ? thicknessMm - distanceMm[i]! : 0;
}
