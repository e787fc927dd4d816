import type { SizeCommandResult } from '../commands/size.ts';
import { csvText } from './csv.ts';

export const SIZE_COLUMNS = [
  'seat,seat_mm,width,tip,bar_length_mm,room_mm,in_seat_range,worst,worst_side,worst_mm,worst_times_its_rule,worst_case',
  'highest_p95_kpa,load_n,rule_of_thumb_n,bears_with_pad_n,bears_without_pad_n,is_closest,reason',
].join(',');

/** Every tree as a row. What a tree bears is no permission for a rider of that weight. */
export function sizeCsv({ rows, closest }: SizeCommandResult): string {
  const lines = rows.map(({ capacity, worst, cases, ...row }, i) => [
    ...[row.seat, row.seatMm, row.width, row.tip, row.barLengthMm, row.roomMm, row.isInSeatRange],
    ...[worst?.code ?? null, worst?.side ?? null, worst?.sizeMm ?? null, worst?.ratio ?? null, worst?.inCase ?? null],
    ...[Math.max(...cases.map(({ p95PressureKPa }) => p95PressureKPa)), row.loadN, capacity.ruleOfThumbN],
    ...[capacity.withPad.firstN, capacity.withoutPad?.firstN ?? null, i === closest, row.reason],
  ]);
  return csvText(SIZE_COLUMNS, lines);
}
