import type { SeatedTree } from '@barwright/geometry';
import { rotationOf } from '@barwright/geometry';

/** Columns of DESIGN 7. Horse frame at the settled pose. */
export const SAMPLE_COLUMNS =
  'bar,b_mm,t,x_mm,y_mm,z_mm,nx,ny,nz,area_mm2,foot_x_mm,foot_y_mm,foot_z_mm,back_nx,back_ny,back_nz,distance_mm,gap_mm,pressure_kpa,in_contact,has_data';

/**
 * Every cell of both undersides as CSV, left bar first, from the front tip, inner edge to outer. Full precision, points
 * as decimals whatever the language; cells without data have empty fields for all that the back would have answered.
 */
export function samplesCsv(seated: SeatedTree): string {
  const { samples, seat } = seated;
  const rotation = rotationOf(seat.pose);
  const lines = [SAMPLE_COLUMNS];
  for (const bar of samples.bars) {
    for (let i = bar.from; i < bar.to; i++) lines.push(cellLine(seated, rotation, bar.side, i));
  }
  return `${lines.join('\n')}\n`;
}

function cellLine({ samples, seat, stack }: SeatedTree, r: readonly number[], side: string, i: number): string {
  const n = samples.normals;
  const turn = (k: number): number => r[k]! * n[3 * i]! + r[k + 1]! * n[3 * i + 1]! + r[k + 2]! * n[3 * i + 2]!;
  const place = [samples.bMm[i]!, samples.t[i]!, ...seat.placedMm.subarray(3 * i, 3 * i + 3)];
  const own = [...place, turn(0), turn(3), turn(6), samples.areaMm2[i]!];
  return [side, ...own.map(numberText), ...backPart(seat, stack.thicknessMm, i)].join(',');
}

function backPart(seat: SeatedTree['seat'], layersMm: number, i: number): string[] {
  if (seat.mask[i] === 0) return ['', '', '', '', '', '', '', '', '', '0', '0'];
  const { footMm, normal, distanceMm } = seat.rows;
  const pressureKPa = 1000 * seat.pressureMPa[i]!;
  const distance = distanceMm[i]!;
  const numbers = [...footMm.subarray(3 * i, 3 * i + 3), ...normal.subarray(3 * i, 3 * i + 3)];
  const figures = [...numbers, distance, distance - layersMm, pressureKPa].map(numberText);
  return [...figures, pressureKPa > 0 ? '1' : '0', '1'];
}

/** Shortest text that gives the same number back. */
const numberText = (value: number): string => (Number.isFinite(value) ? String(value) : '');
