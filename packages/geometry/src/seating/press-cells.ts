import type { LayerStack } from '../layers/index.ts';

/** What the layers' law says of each cell: 0 where nothing presses. Arrays of one length, MPa, MPa/mm, N/mm. */
export interface PressedCells {
  readonly pressureMPa: Float64Array;
  readonly tangent: Float64Array;
  readonly energy: Float64Array;
}

/** Looks every cell up in the law, for squeeze = thickness - distance where the mask is 1. */
export function pressCells(stack: LayerStack, distanceMm: Float64Array, mask: Uint8Array): PressedCells {
  const squeeze = new Float64Array(mask.length);
  squeezeAll(stack.thicknessMm, distanceMm, mask, squeeze);
  const pressureMPa = new Float64Array(mask.length);
  const tangent = new Float64Array(mask.length);
  const energy = new Float64Array(mask.length);
  stack.law.fill(squeeze, pressureMPa, tangent, energy);
  return { pressureMPa, tangent, energy };
}

function squeezeAll(thicknessMm: number, distanceMm: Float64Array, mask: Uint8Array, squeeze: Float64Array): void {
  for (let i = 0; i < mask.length; i++) if (mask[i] === 1) squeeze[i] = thicknessMm - distanceMm[i]!;
}
