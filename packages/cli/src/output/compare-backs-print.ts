import type { ChangesResult, ComparedBack } from '../commands/compare-backs.ts';
import type { Io } from '../io.ts';
import { SHORT_CAUTION } from './cautions.ts';
import type { Warning } from './envelope.ts';
import { plainText } from './plain-text.ts';
import { cell, tableText, wrapText } from './table.ts';

/** What changed by region, both ways of laying together beside what measuring twice can show. */
export function printChanges(result: ChangesResult, warnings: readonly Warning[], io: Io): void {
  const paragraph = (text: string): void => io.stderr(wrapText(plainText(text), '  '));
  io.stderr('\n');
  for (const [name, back] of [
    ['Before', result.before],
    ['After', result.after],
  ] as const) {
    paragraph(`${name}: ${describe(back)}`);
  }
  if (result.doubts.length > 0) {
    io.stderr('\nThese two may not be one horse\n');
    for (const doubt of result.doubts) paragraph(doubt);
  }
  io.stderr('\nMean change, mm straight up: + fuller, - lower\n');
  const rows = result.regions.map((r) => [
    `${r.side}, ${r.third} third (${cell(r.fromXMm, 0)} to ${cell(r.toXMm, 0)})`,
    signed(r.bestFitMm),
    signed(r.landmarksMm),
    cell(r.limitMm, 1),
    cell(100 * r.shownShare, 0),
    cell(100 * r.coverage, 0),
    r.reading,
  ]);
  io.stderr(tableText([['', 'best fit', 'landmarks', 'limit', 'beyond %', 'data %', ''], ...rows]));
  io.stderr(
    wrapText(
      'Limit: what measuring twice can show; beyond: share of places that exceed theirs. Fuller or lower is said only where both ways of laying them together show it.',
      '  ',
    ),
  );
  io.stderr('\nReading\n');
  for (const sentence of result.sentences.bestFit) paragraph(sentence);
  paragraph(`By landmarks: ${result.sentences.landmarks.slice(1).join(' ')}`);
  for (const { sentence } of warnings) paragraph(`Note: ${sentence}`);
  io.stderr(`\n${wrapText(SHORT_CAUTION, '')}\n`);
}

function describe({ name, kind, on, by, uncertaintyMm, uncertaintyDeg, owner }: ComparedBack): string {
  const whose = owner === null ? '' : ` Owner: ${owner}.`;
  return `${name} (${kind}), measured ${on} by ${by}, to about ${uncertaintyMm} mm and ${uncertaintyDeg} deg.${whose}`;
}

const signed = (value: number): string => `${value > 0 ? '+' : ''}${cell(value, 1)}`;
