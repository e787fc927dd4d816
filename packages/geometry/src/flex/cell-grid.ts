import { type BandMatrix, createSplineRow, evaluateSplines, SPLINE_ORDER } from '../numeric/index.ts';
import type { ShellPatch } from './shell-strains.ts';

/** Cells on a shell in rows of equal b, with the spline values at each: what carries unknowns to places and forces back. */
export interface CellGrid {
  readonly rows: number;
  readonly columns: number;
  readonly countAcross: number;
  /** Per row: first function along, and the four values. */
  readonly firstAlong: Int32Array;
  readonly along: Float64Array;
  /** Per cell: first function across, and the four values. */
  readonly firstAcross: Int32Array;
  readonly across: Float64Array;
}

/** @param tau rows x columns, -1..1 */
export function createCellGrid(
  patch: ShellPatch,
  bMm: ArrayLike<number>,
  columns: number,
  tau: ArrayLike<number>,
): CellGrid {
  const rows = bMm.length;
  const grid: CellGrid = {
    rows,
    columns,
    countAcross: patch.across.count,
    firstAlong: new Int32Array(rows),
    along: new Float64Array(rows * SPLINE_ORDER),
    firstAcross: new Int32Array(rows * columns),
    across: new Float64Array(rows * columns * SPLINE_ORDER),
  };
  const row = createSplineRow();
  for (let i = 0; i < rows; i++) {
    evaluateSplines(patch.along, bMm[i]!, row);
    grid.firstAlong[i] = row.first;
    grid.along.set(row.value, SPLINE_ORDER * i);
  }
  for (let i = 0; i < rows * columns; i++) {
    // Most rows have the same places across: only rounded corners change them.
    const above = i - columns;
    if (above >= 0 && tau[above] === tau[i]) {
      grid.firstAcross[i] = grid.firstAcross[above]!;
      grid.across.copyWithin(SPLINE_ORDER * i, SPLINE_ORDER * above, SPLINE_ORDER * (above + 1));
      continue;
    }
    evaluateSplines(patch.across, tau[i]!, row);
    grid.firstAcross[i] = row.first;
    grid.across.set(row.value, SPLINE_ORDER * i);
  }
  return grid;
}

/** Displacements of the cells from the shell's unknowns: writes 3 per cell into `out` from place `from` on. mm */
export function displaceCells(grid: CellGrid, u: Float64Array, out: Float64Array, from = 0): void {
  displace(
    grid.rows,
    grid.columns,
    grid.countAcross,
    grid.firstAlong,
    grid.along,
    grid.firstAcross,
    grid.across,
    u,
    out,
    from,
  );
}

/** Adds forces at the cells (3 per cell from place `from` of `force` on) to the forces on the unknowns. */
export function addCellForces(grid: CellGrid, force: Float64Array, from: number, out: Float64Array): void {
  gather(
    grid.rows,
    grid.columns,
    grid.countAcross,
    grid.firstAlong,
    grid.along,
    grid.firstAcross,
    grid.across,
    force,
    from,
    out,
  );
}

/** Adds cell stiffnesses (symmetric xx xy xz yy yz zz per cell from place `from` on) to the band. Row by row: see gatherStiffness. */
export function addCellStiffness(grid: CellGrid, stiffness: Float64Array, from: number, band: BandMatrix): void {
  gatherStiffness(
    grid.rows,
    grid.columns,
    grid.countAcross,
    grid.firstAlong,
    grid.along,
    grid.firstAcross,
    grid.across,
    stiffness,
    from,
    band.halfWidth,
    band.data,
  );
}

/** Loops over cells take arrays and numbers only; see seating/sum-cells.ts for why. */
function displace(
  rows: number,
  columns: number,
  nt: number,
  firstAlong: Int32Array,
  along: Float64Array,
  firstAcross: Int32Array,
  across: Float64Array,
  u: Float64Array,
  out: Float64Array,
  from: number,
): void {
  const line = new Float64Array(3 * nt);
  for (let r = 0; r < rows; r++) {
    const base = 3 * nt * firstAlong[r]!;
    const [n0, n1, n2, n3] = [along[4 * r]!, along[4 * r + 1]!, along[4 * r + 2]!, along[4 * r + 3]!];
    for (let k = 0; k < 3 * nt; k++) {
      line[k] =
        n0 * u[base + k]! + n1 * u[base + 3 * nt + k]! + n2 * u[base + 6 * nt + k]! + n3 * u[base + 9 * nt + k]!;
    }
    for (let c = r * columns; c < (r + 1) * columns; c++) {
      const k = 3 * firstAcross[c]!;
      const [t0, t1, t2, t3] = [across[4 * c]!, across[4 * c + 1]!, across[4 * c + 2]!, across[4 * c + 3]!];
      for (let a = 0; a < 3; a++) {
        out[from + 3 * c + a] =
          t0 * line[k + a]! + t1 * line[k + 3 + a]! + t2 * line[k + 6 + a]! + t3 * line[k + 9 + a]!;
      }
    }
  }
}

function gather(
  rows: number,
  columns: number,
  nt: number,
  firstAlong: Int32Array,
  along: Float64Array,
  firstAcross: Int32Array,
  across: Float64Array,
  force: Float64Array,
  from: number,
  out: Float64Array,
): void {
  const line = new Float64Array(3 * nt);
  for (let r = 0; r < rows; r++) {
    line.fill(0);
    for (let c = r * columns; c < (r + 1) * columns; c++) {
      const at = from + 3 * c;
      const [fx, fy, fz] = [force[at]!, force[at + 1]!, force[at + 2]!];
      if (fx === 0 && fy === 0 && fz === 0) continue;
      const k = 3 * firstAcross[c]!;
      for (let j = 0; j < 4; j++) {
        const t = across[4 * c + j]!;
        line[k + 3 * j]! += t * fx;
        line[k + 3 * j + 1]! += t * fy;
        line[k + 3 * j + 2]! += t * fz;
      }
    }
    const base = 3 * nt * firstAlong[r]!;
    for (let i = 0; i < 4; i++) {
      const n = along[4 * r + i]!;
      for (let k = 0; k < 3 * nt; k++) out[base + 3 * nt * i + k]! += n * line[k]!;
    }
  }
}

/** All cells of a row share their functions along: they are summed across first, and spread along once per row. */
function gatherStiffness(
  rows: number,
  columns: number,
  nt: number,
  firstAlong: Int32Array,
  along: Float64Array,
  firstAcross: Int32Array,
  across: Float64Array,
  stiffness: Float64Array,
  from: number,
  w: number,
  band: Float64Array,
): void {
  const n = 3 * nt;
  const block = new Float64Array(n * n);
  for (let r = 0; r < rows; r++) {
    block.fill(0);
    let any = false;
    for (let c = r * columns; c < (r + 1) * columns; c++) {
      const at = from + 6 * c;
      const [xx, xy, xz] = [stiffness[at]!, stiffness[at + 1]!, stiffness[at + 2]!];
      const [yy, yz, zz] = [stiffness[at + 3]!, stiffness[at + 4]!, stiffness[at + 5]!];
      if (xx === 0 && yy === 0 && zz === 0) continue;
      any = true;
      const k = 3 * firstAcross[c]!;
      for (let i = 0; i < 4; i++) {
        for (let j = 0; j <= i; j++) {
          const t = across[4 * c + i]! * across[4 * c + j]!;
          const p = (k + 3 * i) * n + k + 3 * j;
          block[p]! += t * xx;
          block[p + 1]! += t * xy;
          block[p + 2]! += t * xz;
          block[p + n]! += t * xy;
          block[p + n + 1]! += t * yy;
          block[p + n + 2]! += t * yz;
          block[p + 2 * n]! += t * xz;
          block[p + 2 * n + 1]! += t * yz;
          block[p + 2 * n + 2]! += t * zz;
        }
      }
    }
    if (!any) continue;
    for (let p = 0; p < nt; p++) {
      for (let q = 0; q < p; q++) {
        for (let a = 0; a < 3; a++) {
          for (let b = 0; b < 3; b++) block[(3 * q + a) * n + 3 * p + b] = block[(3 * p + b) * n + 3 * q + a]!;
        }
      }
    }
    const base = n * firstAlong[r]!;
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j <= i; j++) {
        const s = along[4 * r + i]! * along[4 * r + j]!;
        for (let p = 0; p < n; p++) {
          const row = base + i * n + p;
          const at = row * (w + 1) + w - row + base + j * n;
          const last = i === j ? p : n - 1;
          for (let q = 0; q <= last; q++) band[at + q]! += s * block[p * n + q]!;
        }
      }
    }
  }
}
