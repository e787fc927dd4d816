import type { BarView } from '../../contract.ts';

/** The bar with its bending drawn so many times over; all its values stay what they are. Rigid bars come back as they are. */
export function exaggerate(bar: BarView, times: number): BarView {
  const { bentMm } = bar;
  if (bentMm === null || times === 1) return bar;
  const moved = (points: Float32Array): Float32Array => points.map((p, i) => p + (times - 1) * bentMm[i]!);
  return { ...bar, positions: moved(bar.positions), topPositions: moved(bar.topPositions) };
}
