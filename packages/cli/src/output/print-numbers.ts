import { type AssumedValue, type GivenNumber, isMeasuredSlope, type SectionsBackDocument } from '@barwright/geometry';
import type { BackResult } from '../commands/back.ts';
import type { Io } from '../io.ts';
import type { Warning } from './envelope.ts';
import { plainText } from './plain-text.ts';
import { cell, tableText, wrapText } from './table.ts';

/** What a back by hand was made from, and what was filled in. */
export interface ByHand {
  readonly given: readonly GivenNumber[];
  readonly assumed: readonly AssumedValue[];
  readonly uncertainty: { readonly mm: number; readonly deg: number; readonly reason: string };
}

const FROM: Readonly<Record<GivenNumber['from'], string>> = {
  written: '',
  fraction: 'a bare fraction is inches',
  default: 'bare number',
  assumed: 'not given: common practice, no source',
};

/** How each number was read, the sections they gave, how far these may be off, and what was assumed. */
export function printNumbers(result: BackResult, byHand: ByHand, warnings: readonly Warning[], io: Io): void {
  const document = result.document as SectionsBackDocument;
  io.stderr(`${plainText(document.name)}: by hand\n`);
  const rows = byHand.given.map(({ name, written, value, unit, from }) => [
    spaced(name),
    plainText(written === '' ? '-' : written),
    `${cell(value, 1)} ${unit}`,
    FROM[from],
  ]);
  io.stderr(tableText([['', 'written', 'read as', ''], ...rows]));
  io.stderr('\nSlopes of the right side, degrees below level, by distance from the midline; in brackets: assumed\n');
  const slopes = document.slopeDeg.map((row, k) => [
    `${cell(document.stationsMm[k]!, 0)} mm behind the blade`,
    ...row.map((value, j) => (isMeasuredSlope(k, j) ? `${cell(value, 1)} ` : `(${cell(value, 1)})`)),
    `(${cell(document.bearingHeightMm[k]!, 1)})`,
  ]);
  io.stderr(tableText([['', ...document.slopeYMm.map((y) => `${y} mm `), 'height mm '], ...slopes]));
  const { mm, deg, reason } = byHand.uncertainty;
  io.stderr(`\n${wrapText(`May be off by ${mm} mm and ${deg} degrees, or more. ${reason}`, '  ')}`);
  io.stderr(`\nAssumed, ${byHand.assumed.length} values (each in the JSON document):\n`);
  for (const [why, fields] of groups(byHand.assumed)) {
    io.stderr(wrapText(`${fields.length} of ${[...new Set(fields.map(stem))].join(', ')}: ${why}`, '  '));
  }
  for (const { sentence } of warnings) io.stderr(wrapText(plainText(`Note: ${sentence}`), '  '));
  if (result.remeasure !== null) io.stderr(wrapText(result.remeasure.sentence, '  '));
  if (result.written.length > 0) io.stderr(`  Written: ${plainText(result.written.join(', '))}\n`);
}

function groups(assumed: readonly AssumedValue[]): Map<string, string[]> {
  const out = new Map<string, string[]>();
  for (const { why, field } of assumed) out.set(why, [...(out.get(why) ?? []), field]);
  return out;
}

const stem = (field: string): string => field.split('.')[0]!;
const spaced = (name: string): string =>
  name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`).replace('.', ', ');
