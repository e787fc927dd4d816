import { createHeightJet } from '../../packages/geometry/src/bar/index.ts';
import { buildBarStructure } from '../../packages/geometry/src/flex/build-bar-flex.ts';
import { addCellForces, createCellGrid, displaceCells } from '../../packages/geometry/src/flex/cell-grid.ts';
import { pressShell } from '../../packages/geometry/src/flex/press-shell.ts';
import { type FlexCase, type KeptAnswer, undersideOf } from './flex-cases.fixture.ts';

/** Our own shell's answer to a case, at the places where answers are kept. */
export interface ShellAnswer {
  /** In the order of KeptAnswer.places, mm. */
  readonly moves: readonly (readonly number[])[];
  /** Of the bed on bar and feet, N. */
  readonly bedForceN: readonly number[];
}

const ROW_MM = 2;
const COLUMNS = 40;

/** Cells by midpoints over the part of the underside that the case loads: a tip's case leaves the rest alone. */
function cellsOf(c: FlexCase) {
  const bar = undersideOf(c);
  const lengthMm = c.spans[c.spans.length - 1]!.toMm;
  const rows = Math.round(lengthMm / ROW_MM);
  const cells = { bMm: [] as number[], tau: [] as number[], areaMm2: [] as number[], towards: [] as number[] };
  const jet = createHeightJet();
  for (let i = 0; i < rows; i++) {
    const b = ((i + 0.5) * lengthMm) / rows;
    const row = bar.row(b);
    const half = row.outlineHalfWidthY;
    cells.bMm.push(b);
    for (let j = 0; j < COLUMNS; j++) {
      const t = -1 + (2 * j + 1) / COLUMNS;
      bar.heightJet(row, row.middleY[0] + t * half, jet);
      const long = Math.hypot(jet.zb, jet.zy, 1);
      cells.tau.push((t * half) / row.halfWidthY[0]);
      cells.areaMm2.push((long * 2 * half * lengthMm) / (COLUMNS * rows));
      cells.towards.push(jet.zb / long, jet.zy / long, -1 / long);
    }
  }
  return cells;
}

export function shellAnswer(c: FlexCase, places: KeptAnswer['places']): ShellAnswer {
  const elastic = (modulusMPa: number) => ({
    alongMPa: modulusMPa,
    acrossMPa: modulusMPa,
    shearMPa: modulusMPa / (2 * (1 + c.poisson)),
    poisson: c.poisson,
  });
  const { bar, lower, tip } = c.modulusMPa;
  const { patch, stiffness } = buildBarStructure(undersideOf(c), c.parts, {
    elastic: { bar: elastic(bar), lower: elastic(lower), tip: elastic(tip) },
    groundSeatNPerMm2: c.rail?.nPerMm2 ?? 0,
  });
  const { bMm, tau, areaMm2, towards } = cellsOf(c);
  const grid = createCellGrid(patch, bMm, COLUMNS, tau);
  const forces = new Float64Array(patch.dofs);
  const pressure = towards.map((n, i) => (-n * c.pressureKPa * areaMm2[Math.floor(i / 3)]!) / 1000);
  addCellForces(grid, Float64Array.from(pressure), 0, forces);
  const bed = c.bed && {
    grid,
    areaMm2: Float64Array.from(areaMm2),
    towards: Float64Array.from(towards),
    squeezeMm: Float64Array.from(areaMm2, (_, i) => c.bed!.c0Mm(bMm[Math.floor(i / COLUMNS)]!)),
    stiffness: c.bed.nPerMm3,
  };
  const pressed = pressShell(stiffness, bed, forces);
  const moves = places.map((p) => {
    const out = new Float64Array(3);
    displaceCells(createCellGrid(patch, [p.bMm], 1, [p.tau]), pressed.u, out);
    return [...out];
  });
  return { moves, bedForceN: pressed.forceN };
}

/** Longest distance between the shell's moves and the kept ones, percent of the longest kept move. */
export const worstPercent = (shell: ShellAnswer, kept: KeptAnswer): number =>
  (100 * Math.max(...shell.moves.map((u, i) => Math.hypot(...u.map((x, a) => x - kept.places[i]!.u[a]!))))) /
  kept.greatestMm;
