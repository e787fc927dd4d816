import { InputError } from '@barwright/geometry';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';

export type Point = readonly [number, number];

/** "25 40; 40 75": points of a curve as they are typed, exactly as they are kept; with `digits`, to be read. */
export function pointsText(points: readonly Point[], digits = 17): string {
  const text = (value: number): string => String(digits < 17 ? Number(value.toPrecision(digits)) : value);
  return points.map(([x, y]) => `${text(x)} ${text(y)}`).join('; ');
}

/**
 * Points typed as pairs of plain numbers, parted by semicolons; a comma or a colon may stand within a pair.
 * @throws InputError 'syntax' with the pair that is none; what the numbers may be is left to the schema
 */
export function readPoints(text: string, field: string): Point[] {
  return text
    .split(';')
    .map((pair) => pair.trim())
    .filter((pair) => pair !== '')
    .map((pair) => readPair(pair, field));
}

function readPair(pair: string, field: string): Point {
  const parts = pair.split(/\s*[,:]\s*|\s+/).map((part) => (part === '' ? Number.NaN : Number(part)));
  if (parts.length === 2 && parts.every(Number.isFinite)) return [parts[0]!, parts[1]!];
  throw new InputError({
    code: 'syntax',
    field,
    got: JSON.stringify(pair).slice(0, 60),
    ...REFUSAL_TEXTS.pairs,
  });
}
