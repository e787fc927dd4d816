import type { FitResult } from './fit-result.ts';

/**
 * What changed from one fit to another that area and mean pressure alone would hide (TRADE 4: they can lie). Plain
 * sentences; empty where there is nothing of the kind to say. Never ranks one above the other.
 */
export function compareFits(before: FitResult, after: FitResult): string[] {
  const [a, b] = [before.contact, after.contact];
  const out: string[] = [];
  const move = (what: string, from: number, to: number, unit: string): string =>
    `${what} ${from.toFixed(1)} to ${to.toFixed(1)} ${unit}`;
  if (b.areaCm2 > a.areaCm2 && b.meanPressureKPa < a.meanPressureKPa && b.p95PressureKPa > a.p95PressureKPa) {
    out.push(
      `Contact area rises (${move('from', a.areaCm2, b.areaCm2, 'cm2')}) and the mean falls ` +
        `(${move('from', a.meanPressureKPa, b.meanPressureKPa, 'kPa')}), but the 95th percentile rises ` +
        `(${move('from', a.p95PressureKPa, b.p95PressureKPa, 'kPa')}): more area is not a closer fit here.`,
    );
  }
  const middle = (f: FitResult): number => 100 * f.contact.shareMiddle;
  if (Math.abs(middle(after) - middle(before)) >= 5) {
    out.push(`The middle third's share goes ${move('from', middle(before), middle(after), '%')}.`);
  }
  return out;
}
