import { createSplineBasis } from '../numeric/index.ts';
import { addCellForces, type CellGrid, createCellGrid, displaceCells } from './cell-grid.ts';
import { type Layup, stiffPly } from './plies.ts';
import { createPatch, type ShellPatch } from './shell-strains.ts';
import { flatSurface } from './shell-surface.ts';

/** Evenly spaced breaks. */
export const evenly = (from: number, to: number, pieces: number): number[] =>
  Array.from({ length: pieces + 1 }, (_, i) => from + ((to - from) * i) / pieces);

export function flatPatch(
  widthMm: (b: number) => number,
  breaks: readonly number[],
  across: number,
  kinks: readonly number[] = [],
): ShellPatch {
  return createPatch(
    flatSurface(breaks[breaks.length - 1]!, widthMm),
    createSplineBasis(breaks, kinks),
    createSplineBasis(evenly(-1, 1, across)),
  );
}

/** One isotropic ply between two heights. */
export const isotropic = (modulusMPa: number, poisson: number, fromMm: number, toMm: number): Layup => {
  const shearMPa = modulusMPa / (2 * (1 + poisson));
  const elastic = { alongMPa: modulusMPa, acrossMPa: modulusMPa, shearMPa, poisson };
  return { plies: [stiffPly(elastic, fromMm, toMm)], riseMm: 0 };
};

/** A midpoint grid of cells over a whole patch of constant width. */
export function evenCells(
  patch: ShellPatch,
  rows: number,
  columns: number,
): { grid: CellGrid; bMm: number[]; tau: number[] } {
  const { lengthMm } = patch.surface;
  const bMm = Array.from({ length: rows }, (_, i) => ((i + 0.5) * lengthMm) / rows);
  const tau = Array.from({ length: rows * columns }, (_, i) => -1 + (2 * ((i % columns) + 0.5)) / columns);
  return { grid: createCellGrid(patch, bMm, columns, tau), bMm, tau };
}

/** Forces on the unknowns of one force at one place. */
export function pointForce(patch: ShellPatch, bMm: number, tau: number, force: readonly number[]): Float64Array {
  const out = new Float64Array(patch.dofs);
  addCellForces(createCellGrid(patch, [bMm], 1, [tau]), Float64Array.from(force), 0, out);
  return out;
}

/** A force spread evenly across the line b = constant. */
export function lineForce(patch: ShellPatch, bMm: number, force: readonly number[], parts = 40): Float64Array {
  const out = new Float64Array(patch.dofs);
  const tau = Array.from({ length: parts }, (_, i) => -1 + (2 * (i + 0.5)) / parts);
  const each = Float64Array.from({ length: 3 * parts }, (_, i) => force[i % 3]! / parts);
  addCellForces(createCellGrid(patch, [bMm], parts, tau), each, 0, out);
  return out;
}

export function displacementAt(patch: ShellPatch, u: Float64Array, bMm: number, tau: number): Float64Array {
  const out = new Float64Array(3);
  displaceCells(createCellGrid(patch, [bMm], 1, [tau]), u, out);
  return out;
}
