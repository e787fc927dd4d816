/** Seats that riders of a mass are usually put on. From memory, no source (TRADE 8, amendments); editable by the shop's own table. */
export interface SeatRow {
  readonly fromKg: number;
  readonly toKg: number;
  readonly fromIn: number;
  readonly toIn: number;
}

export const SEAT_TABLE: readonly SeatRow[] = [
  { fromKg: 50, toKg: 65, fromIn: 13, toIn: 15 },
  { fromKg: 60, toKg: 80, fromIn: 15, toIn: 16 },
  { fromKg: 75, toKg: 95, fromIn: 16, toIn: 17 },
  { fromKg: 90, toKg: 115, fromIn: 17, toIn: 18.5 },
];

export const SEAT_TABLE_SOURCE = 'from memory, no source';
const THIGH_IN = { short: -0.5, average: 0, long: 0.5 } as const;

export interface SeatRange {
  readonly fromIn: number;
  readonly toIn: number;
  /** The rider is lighter or heavier than the table's ends: the nearest row stands in. */
  readonly isBeyondTable: boolean;
}

/** Seat lengths for a rider: every row that holds the mass, moved by the thigh. */
export function seatRange(
  massKg: number,
  thigh: keyof typeof THIGH_IN,
  table: readonly SeatRow[] = SEAT_TABLE,
): SeatRange {
  const holding = table.filter(({ fromKg, toKg }) => massKg >= fromKg && massKg <= toKg);
  const rows = holding.length > 0 ? holding : [nearestRow(massKg, table)];
  return {
    fromIn: Math.min(...rows.map(({ fromIn }) => fromIn)) + THIGH_IN[thigh],
    toIn: Math.max(...rows.map(({ toIn }) => toIn)) + THIGH_IN[thigh],
    isBeyondTable: holding.length === 0,
  };
}

function nearestRow(massKg: number, table: readonly SeatRow[]): SeatRow {
  const away = ({ fromKg, toKg }: SeatRow): number => Math.max(fromKg - massKg, massKg - toKg);
  return table.reduce((best, row) => (away(row) < away(best) ? row : best));
}
