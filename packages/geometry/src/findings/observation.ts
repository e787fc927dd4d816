import type { Side } from '../spatial/index.ts';
import type { FindingCode } from './fit-result.ts';
import type { Reading } from './reading.ts';

/** A finding before causes: what was seen on which side, and how to look for the same thing in another seating. */
export interface Observation {
  readonly code: FindingCode;
  readonly side: Side | 'both';
  /** mm behind the blade edge. */
  readonly fromMm: number;
  readonly toMm: number;
  readonly sizeMm: number;
  /** Size relative to its rule: 1 just meets it. Compares findings of different kinds. */
  readonly ratio: number;
  readonly withinMeasuringError: boolean;
  /** The same measure at the same place in another seating, mm; negative once it has turned into its opposite. */
  sizeIn(reading: Reading): number | null;
  /** The rule it is compared with, value and who set it; said at the end. */
  readonly rule: string;
  /** The sentence without causes and rule; `where` is "the left bar", "both bars", and so on. */
  say(where: string): string;
}

/** Looks for one kind of finding. */
export type Finder = (reading: Reading) => Observation[];

export const SIDES = ['left', 'right'] as const;

export const whereOf = (side: Observation['side']): string => (side === 'both' ? 'both bars' : `the ${side} bar`);

/** mm for a sentence: one decimal below 20. */
export function mm(value: number): string {
  const digits = Math.abs(value) < 19.95 ? 1 : 0;
  return `${value.toFixed(digits)} mm`;
}

/** "rule 3 mm, common practice, no source" */
export function ruleWords(rules: Reading['rules'], value: string): string {
  const on = rules.setOn === null ? '' : `, ${rules.setOn}`;
  return `rule ${value}; ${rules.setBy}${on}`;
}

/** The largest of sizes along a stretch; the most negative once all of them have turned into their opposite. */
export function largest(sizes: readonly number[]): number {
  const most = Math.max(...sizes);
  return most > 0 ? most : Math.min(...sizes);
}
