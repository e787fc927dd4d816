import type { BarView } from '../../contract.ts';
import { cellOf, extended } from '../../scene/build/grid.ts';

/**
 * One underside laid flat: nodes at the cells' middles and one ring of nodes on its edges. Along: mm from the front tip.
 * Across: mm from the midline, the inner edge where it stands, then outward along the section, so widths are true.
 */
export interface FlatBar {
  readonly rows: number;
  readonly columns: number;
  readonly along: Float64Array;
  readonly across: Float64Array;
  readonly values: Float64Array;
  readonly lengthMm: number;
}

/** @param values one for each cell, NaN without data */
export function flatBar(bar: BarView, values: Float32Array): FlatBar {
  const [rows, columns] = [extended(bar.rows), extended(bar.columns)];
  const flat = {
    rows,
    columns,
    along: new Float64Array(rows * columns),
    across: new Float64Array(rows * columns),
    values: new Float64Array(rows * columns),
  };
  const rowMm = bar.bMm[bar.columns]! - bar.bMm[0]!;
  const lengthMm = bar.bMm[bar.bMm.length - 1]! + rowMm / 2;
  for (let i = 0; i < rows; i++) {
    const across = sectionAcross(bar, Math.min(bar.rows - 1, Math.max(0, i - 1)));
    for (let j = 0; j < columns; j++) {
      const at = i * columns + j;
      const cell = cellOf(i, j, bar.rows, bar.columns);
      flat.along[at] = i === 0 ? 0 : i === rows - 1 ? lengthMm : bar.bMm[cell]!;
      flat.across[at] = across[j]!;
      flat.values[at] = values[cell]!;
    }
  }
  return { ...flat, lengthMm };
}

/** Places of a row's nodes: both edges half a cell beyond the outermost cells. */
function sectionAcross({ positions: p, columns }: BarView, row: number): number[] {
  const at = (j: number, c: number): number => p[3 * (row * columns + j) + c]!;
  const steps = Array.from({ length: columns - 1 }, (_, j) =>
    Math.hypot(at(j + 1, 1) - at(j, 1), at(j + 1, 2) - at(j, 2)),
  );
  const towardsMiddle = (Math.abs(at(1, 1)) - Math.abs(at(0, 1))) / 2;
  const out = [Math.abs(at(0, 1)) - towardsMiddle];
  out.push(out[0]! + steps[0]! / 2);
  for (const step of steps) out.push(out[out.length - 1]! + step);
  out.push(out[out.length - 1]! + steps[steps.length - 1]! / 2);
  return out;
}
