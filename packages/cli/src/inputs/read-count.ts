import { InputError } from '@barwright/geometry';

export interface CountBounds {
  readonly least: number;
  readonly most: number;
  readonly isOdd?: boolean;
}

/** A whole number from a flag. Throws InputError 'usage' outside its bounds. */
export function readCount(option: string, text: string | undefined, other: number, bounds: CountBounds): number {
  if (text === undefined) return other;
  const { least, most, isOdd = false } = bounds;
  const value = /^\d{1,10}$/.test(text) ? Number(text) : Number.NaN;
  if (value >= least && value <= most && !(isOdd && value % 2 === 0)) return value;
  throw new InputError({
    code: 'usage',
    field: option,
    got: JSON.stringify(text).slice(0, 60),
    expected: `${isOdd ? 'an odd' : 'a whole'} number from ${least} to ${most}`,
    remedy: `Write, for example, ${option} ${other}`,
  });
}
