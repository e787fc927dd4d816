import type { BarSamples } from '../bar/index.ts';

/**
 * Highest mean pressure over a disc of the given area, centred on each pressed cell in turn; a disc that hangs over the
 * bar's edge is averaged over the bar's part of it. Neighbours are found on the bar's grid.
 *
 * A mean is never above the highest pressure within its disc, so cells whose surroundings stay below the mean about the
 * hardest pressed cell are left out.
 */
export function peakOverDisc(
  samples: BarSamples,
  placedMm: Float64Array,
  pressureMPa: Float64Array,
  discMm2: number,
): { pressureMPa: number; at: number } {
  const radius = Math.sqrt(discMm2 / Math.PI);
  const reachRows = Math.ceil(radius / (samples.lengthMm / samples.rows));
  const mean = (i: number): number =>
    discMean(samples.areaMm2, placedMm, pressureMPa, radius * radius, reachRows, ...placeOf(samples, i));
  const hardest = indexOfHighest(pressureMPa);
  if (hardest < 0) return { pressureMPa: 0, at: -1 };
  const least = mean(hardest) * (1 - 1e-12);
  let best = 0;
  let at = -1;
  for (const { from } of samples.bars) {
    for (let row = 0; row < samples.rows; row++) {
      const mayReach = columnsThatMayReach(least, samples, pressureMPa, from, row, reachRows, radius);
      if (mayReach === null) continue;
      for (let column = 0; column < samples.columns; column++) {
        const i = from + row * samples.columns + column;
        if (!(pressureMPa[i]! > 0) || mayReach[column] === 0) continue;
        const value = mean(i);
        if (value <= best) continue;
        best = value;
        at = i;
      }
    }
  }
  return { pressureMPa: best, at };
}

type Place = readonly [barFrom: number, row: number, column: number, rows: number, columns: number];

function placeOf(samples: BarSamples, i: number): Place {
  const { from } = i < samples.bars[0].to ? samples.bars[0] : samples.bars[1];
  const row = Math.floor((i - from) / samples.columns);
  return [from, row, i - from - row * samples.columns, samples.rows, samples.columns];
}

function indexOfHighest(pressureMPa: Float64Array): number {
  let at = -1;
  let highest = 0;
  for (let i = 0; i < pressureMPa.length; i++) {
    if (!(pressureMPa[i]! > highest)) continue;
    highest = pressureMPa[i]!;
    at = i;
  }
  return at;
}

/**
 * 1 for each column of one row with a pressure of `least` or more within reach of its disc: over the rows in reach and the
 * columns whose y, in the bar frame, is in reach; a distance is never shorter than its y alone. null where no column has.
 */
function columnsThatMayReach(
  least: number,
  samples: BarSamples,
  pressureMPa: Float64Array,
  from: number,
  row: number,
  reachRows: number,
  radius: number,
): Uint8Array | null {
  const { rows, columns } = samples;
  const highest = new Float64Array(columns);
  let most = 0;
  for (let r = Math.max(0, row - reachRows); r <= Math.min(rows - 1, row + reachRows); r++) {
    for (let c = 0, k = from + r * columns; c < columns; c++, k++) {
      if (pressureMPa[k]! > highest[c]!) highest[c] = pressureMPa[k]!;
      if (pressureMPa[k]! > most) most = pressureMPa[k]!;
    }
  }
  if (most < least) return null;
  const reach = columnsInReach(samples, from, row, reachRows, radius);
  const may = new Uint8Array(columns);
  for (let c = 0; c < columns; c++) {
    if (highest[c]! < least) continue;
    for (let k = Math.max(0, c - reach); k <= Math.min(columns - 1, c + reach); k++) may[k] = 1;
  }
  return may;
}

/** Columns on either side of a cell's own that a disc about it may touch in the rows in reach. */
function columnsInReach(samples: BarSamples, from: number, row: number, reachRows: number, radius: number): number {
  const { rows, columns, pointsMm } = samples;
  const own = from + row * columns;
  let reach = 0;
  for (let r = Math.max(0, row - reachRows); r <= Math.min(rows - 1, row + reachRows); r++) {
    const first = from + r * columns;
    const inner = pointsMm[3 * first + 1]!;
    const outer = pointsMm[3 * (first + columns - 1) + 1]!;
    const aside = Math.max(
      Math.abs(inner - pointsMm[3 * own + 1]!),
      Math.abs(outer - pointsMm[3 * (own + columns - 1) + 1]!),
    );
    const pitch = Math.abs(outer - inner) / (columns - 1);
    reach = Math.max(reach, Math.min(columns, Math.ceil((radius + aside) / pitch)));
  }
  return reach;
}

/** Row by row of the bar's grid, outward from the cell's own column until the disc ends. */
function discMean(
  areaMm2: Float64Array,
  p: Float64Array,
  pressureMPa: Float64Array,
  radius2: number,
  reachRows: number,
  barFrom: number,
  row: number,
  column: number,
  rows: number,
  columns: number,
): number {
  const i = barFrom + row * columns + column;
  const inDisc = (k: number): boolean => {
    const dx = p[3 * k]! - p[3 * i]!;
    const dy = p[3 * k + 1]! - p[3 * i + 1]!;
    const dz = p[3 * k + 2]! - p[3 * i + 2]!;
    return dx * dx + dy * dy + dz * dz <= radius2;
  };
  let area = 0;
  let force = 0;
  for (let r = Math.max(0, row - reachRows); r <= Math.min(rows - 1, row + reachRows); r++) {
    const first = barFrom + r * columns;
    for (let k = first + column; k < first + columns && inDisc(k); k++) {
      area += areaMm2[k]!;
      force += areaMm2[k]! * pressureMPa[k]!;
    }
    for (let k = first + column - 1; k >= first && inDisc(k); k--) {
      area += areaMm2[k]!;
      force += areaMm2[k]! * pressureMPa[k]!;
    }
  }
  return area > 0 ? force / area : 0;
}
