/** Points [x, value], x rising. */
export type FactorTable = readonly (readonly [x: number, value: number])[];

/** A value of a table, and whether x lay beyond it, where the end's value is held. One point holds everywhere. */
export interface TableValue {
  readonly value: number;
  readonly beyond: boolean;
}

/** Straight between points. */
export function alongTable(table: FactorTable, x: number): TableValue {
  return interpolate(table, x, (from, to) => (x - from) / (to - from));
}

/**
 * Straight in the logarithm of time between points, and straight in time up to the first point above 0; `atNone` is the
 * value at no time where the table does not say.
 */
export function alongTime(table: FactorTable, hours: number, atNone: number): TableValue {
  const whole: FactorTable = table[0]![0] > 0 ? [[0, atNone], ...table] : table;
  return interpolate(whole, hours, (from, to) =>
    from > 0 ? Math.log(hours / from) / Math.log(to / from) : hours / to,
  );
}

function interpolate(table: FactorTable, x: number, share: (from: number, to: number) => number): TableValue {
  const [first, last] = [table[0]!, table.at(-1)!];
  const beyond = table.length > 1 && (x < first[0] || x > last[0]);
  if (x <= first[0]) return { value: first[1], beyond };
  if (x >= last[0]) return { value: last[1], beyond };
  const i = table.findIndex(([at]) => at > x);
  const [[from, before], [to, after]] = [table[i - 1]!, table[i]!];
  return { value: before + share(from, to) * (after - before), beyond };
}
