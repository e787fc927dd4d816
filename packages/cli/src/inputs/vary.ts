import { InputError, listPatternFields, nearNames, readQuantity, type UnitName } from '@barwright/geometry';
import { SETUP_PREFIX, setupNumberKeys, setupUnit } from './set-setup.ts';
import type { Changed } from './settings.ts';

/** Most steps of one sweep, both values together. */
export const MAX_STEPS = 2000;

/** One value stepped through a range, in the value's own unit. */
export interface Vary {
  readonly key: string;
  readonly unit: string;
  readonly from: number;
  readonly to: number;
  readonly step: number;
  readonly count: number;
  /** Enough to tell the steps apart in a table. */
  readonly decimals: number;
}

/** `key=from:to:step`, each with or without its unit. The end is reached when a whole number of steps leads there. */
export function readVary(text: string, base: Changed): Vary {
  const at = text.indexOf('=');
  const key = text.slice(0, at).trim();
  const parts = text.slice(at + 1).split(':');
  if (at <= 0 || key === '' || parts.length !== 3 || parts.some((part) => part.trim() === '')) {
    throw usage(text, 'a key, an equals sign, and from:to:step', 'Write for example --vary length=500:700:10');
  }
  const unit = unitOf(key, base);
  const [from, to, step] = parts.map((part) => readQuantity(part.trim(), { field: `--vary ${key}`, unit })) as [
    number,
    number,
    number,
  ];
  if (step === 0 || (to - from) / step < 0) {
    throw usage(text, 'a step that leads from the first value to the last', 'Give the step the sign of the way');
  }
  const whole = Math.floor((to - from) / step + 1e-9);
  if (!Number.isFinite(whole) || whole + 1 > MAX_STEPS) {
    throw usage(text, `at most ${MAX_STEPS} steps`, 'Take larger steps');
  }
  return { key, unit, from, to, step, count: whole + 1, decimals: decimalsOf(from, step) };
}

/** All combinations, the last value stepping fastest. */
export function stepValues(varied: readonly Vary[]): number[][] {
  let rows: number[][] = [[]];
  for (const vary of varied) {
    rows = rows.flatMap((row) => Array.from({ length: vary.count }, (_, i) => [...row, stepValue(vary, i)]));
  }
  return rows;
}

/** The last step is the end itself where it comes within rounding of it. */
function stepValue({ from, to, step }: Vary, i: number): number {
  const value = from + i * step;
  return Math.abs(value - to) <= Math.abs(step) * 1e-9 ? to : value;
}

function decimalsOf(from: number, step: number): number {
  for (let decimals = 0; decimals < 3; decimals++) {
    const round = (value: number): number => Math.abs(value - Number(value.toFixed(decimals)));
    if (round(from) < 1e-9 && round(step) < 1e-9) return decimals;
  }
  return 3;
}

function unitOf(key: string, { pattern, setup }: Changed): UnitName {
  const ofSetup = setupNumberKeys(setup).map((name) => SETUP_PREFIX + name);
  if (ofSetup.includes(key)) return setupUnit(key.slice(SETUP_PREFIX.length));
  const fields = listPatternFields(pattern.stations);
  const name = key.startsWith('left.') ? key.slice('left.'.length) : key;
  const field = fields.find((item) => item.key === name);
  if (field !== undefined) return field.unit;
  const near = nearNames(key, [...fields.map((item) => item.key), ...ofSetup]);
  throw new InputError({
    code: 'unknown-name',
    field: '--vary',
    got: JSON.stringify(key).slice(0, 60),
    expected: 'the name of a value of the pattern, or of the setup after "setup."',
    remedy: near.length > 0 ? `Did you mean ${near.join(', ')}?` : `See barwright check for the names of values`,
  });
}

function usage(text: string, expected: string, remedy: string): InputError {
  return new InputError({ code: 'usage', field: '--vary', got: JSON.stringify(text).slice(0, 60), expected, remedy });
}
