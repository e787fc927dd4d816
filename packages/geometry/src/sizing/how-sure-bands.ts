import { ERROR_SOURCES, type ErrorSource } from './measuring-error.ts';

export type BandSource = ErrorSource | 'set position';

export const BAND_SOURCES: readonly BandSource[] = [...ERROR_SOURCES, 'set position'];

/** Where a band's variance comes from. Shares sum to about 1 where the figure goes nearly straight with the errors. */
export type SourceShares = readonly { readonly source: BandSource; readonly share: number }[];

/** One input of a draw: a unit deviate, or how far the set position was off. */
export interface DrawnInput {
  readonly source: BandSource;
  readonly value: number;
}

export const CONFIDENCE = 0.95;

/** Fewer draws than this give no band. */
export const LEAST_DRAWS = 20;

export const bandEnds = (figures: readonly number[]): readonly [number, number] => {
  const sorted = [...figures].sort((a, b) => a - b);
  return [quantile(sorted, (1 - CONFIDENCE) / 2), quantile(sorted, (1 + CONFIDENCE) / 2)];
};

/** The k-th of n + 1 gaps: with exchangeable draws the next one falls inside as often as it says. */
export function quantile(sorted: readonly number[], share: number): number {
  const at = Math.min(sorted.length, Math.max(1, share * (sorted.length + 1))) - 1;
  const low = Math.floor(at);
  const next = Math.min(sorted.length - 1, low + 1);
  return sorted[low]! + (at - low) * (sorted[next]! - sorted[low]!);
}

/** First-order shares of variance: squared correlation with every input, summed by source (independent inputs). */
export function sharesOf(figures: readonly number[], inputs: readonly (readonly DrawnInput[])[]): SourceShares {
  const sums = new Map<BandSource, number>();
  for (let i = 0; i < (inputs[0]?.length ?? 0); i++) {
    const { source } = inputs[0]![i]!;
    const r = correlation(
      figures,
      inputs.map((row) => row[i]!.value),
    );
    // What chance alone would give, 1 / n, is taken off again.
    sums.set(source, (sums.get(source) ?? 0) + Math.max(0, r * r - 1 / figures.length));
  }
  return BAND_SOURCES.map((source) => ({ source, share: sums.get(source) ?? 0 }));
}

/** The source with the largest share; null where none has any. */
export function largestSource(shares: readonly SourceShares[]): BandSource | null {
  let best: BandSource | null = null;
  let most = 0;
  for (const source of BAND_SOURCES) {
    const sum = shares.reduce((all, one) => all + (one.find((s) => s.source === source)?.share ?? 0), 0);
    if (sum > most) [best, most] = [source, sum];
  }
  return best;
}

function correlation(a: readonly number[], b: readonly number[]): number {
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [ma, mb] = [mean(a), mean(b)];
  let [ab, aa, bb] = [0, 0, 0];
  for (let i = 0; i < a.length; i++) {
    ab += (a[i]! - ma) * (b[i]! - mb);
    aa += (a[i]! - ma) ** 2;
    bb += (b[i]! - mb) ** 2;
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
}
