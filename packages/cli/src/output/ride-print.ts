import type { BackSurface, Riding, RidingCase } from '@barwright/geometry';
import { FINDING_WORDS } from '@barwright/geometry';
import type { RideCaseResult, RideResult } from '../commands/ride.ts';
import type { FitInputs } from '../inputs/fit-inputs.ts';
import type { Io } from '../io.ts';
import { SHORT_CAUTION } from './cautions.ts';
import type { Warning } from './envelope.ts';
import { plainText } from './plain-text.ts';
import { assumptionLines } from './print-fit.ts';
import { cell, tableText, wrapText } from './table.ts';

const LEGEND =
  'Thirds: load on the front, middle and rear of the bars. Held: what girth, breast collar, crupper or friction have to hold, as a force on the tree, + rearward and + to the right. Pitch: + front up; roll: + right side up. Area and mean say little without p95, peak and thirds.';

/** The cases side by side, what each is and where its figures come from. */
export function printRide(
  { riding, cases }: RideResult,
  warnings: readonly Warning[],
  inputs: FitInputs,
  standing: BackSurface,
  io: Io,
): void {
  const paragraph = (text: string): void => io.stderr(wrapText(plainText(text), '  '));
  io.stderr(`\n${plainText(`${inputs.title}, ${riding}`)}\n`);
  for (const line of assumptionLines(inputs.documents.setup, standing.measured, inputs.changes)) paragraph(line);
  paragraph('Each case brings its own factor, ground, girth, posture and legs; all else is as above.');
  io.stderr(`\n${casesTable(cases)}`);
  paragraph(LEGEND);
  io.stderr('\nFindings\n');
  for (const { case: one, findings } of cases) paragraph(`${one.name}: ${findingWords(findings)}`);
  io.stderr('\nWhat each case is, and where it comes from\n');
  for (const { case: one } of cases) paragraph(caseLine(one));
  if (warnings.length > 0) io.stderr('\nNotes\n');
  for (const { field, sentence } of warnings) paragraph(`${field}: ${sentence}`);
  io.stderr(`\n${wrapText(SHORT_CAUTION, '')}\n`);
}

/** The kinds of riding there are, case by case. */
export function printRidings(sets: readonly Riding[], io: Io): void {
  for (const { name, cases } of sets) {
    io.stderr(`\n${plainText(name)}\n`);
    for (const one of cases) io.stderr(wrapText(plainText(caseLine(one)), '  '));
  }
  io.stderr(
    `\n${wrapText('Take one by its name: --riding "Trot work". Or keep one of the documents under result.sets as a file NAME.riding.json, change it, and name the file.', '')}`,
  );
}

function casesTable(cases: readonly RideCaseResult[]): string {
  const shares = (values: readonly number[]): string => values.map((value) => cell(100 * value, 0)).join('/');
  return tableText([
    [
      ...['case', 'load N', 'mean kPa', 'p95 kPa', 'peak kPa', 'pitch deg', 'roll deg', 'thirds F/M/R %', 'L/R %'],
      ...['held x N', 'held y N', ''],
    ],
    ...cases.map(({ case: one, status, load, contact: c, pose, reactions }) => [
      plainText(one.name),
      cell(load.appliedN, 0),
      ...[c.meanPressureKPa, c.p95PressureKPa, c.peakPressureKPa].map((value) => cell(value, 1)),
      ...[pose.pitchDeg, pose.rollDeg].map((value) => cell(value, 2)),
      shares([c.shareFront, c.shareMiddle, c.shareRear]),
      shares([c.shareLeft, c.shareRight]),
      cell(reactions.xN, 0),
      cell(reactions.yN, 0),
      status === 'settled' ? '' : status,
    ]),
  ]);
}

/** Findings by name with their sizes; the largest of those of one name. */
function findingWords(findings: RideCaseResult['findings']): string {
  if (findings.length === 0) return 'nothing beyond the rules in use. That is not a verdict.';
  const largest = new Map<string, number>();
  for (const { code, sizeMm } of findings) {
    const word = FINDING_WORDS[code];
    // Its size is the error of measuring, not of the tree.
    if (code === 'cannot-tell') largest.set(word, 0);
    else largest.set(word, Math.max(largest.get(word) ?? 0, Math.abs(sizeMm)));
  }
  return [...largest].map(([word, sizeMm]) => (sizeMm === 0 ? word : `${word} ${cell(sizeMm, 1)} mm`)).join(', ');
}

/** A case in words: what differs from standing square, and its source. */
function caseLine(one: RidingCase): string {
  const said = [
    `weight times ${one.factor}`,
    one.weightIn === 'seat' ? '' : `weight in ${one.weightIn === 'stirrups' ? 'both stirrups' : `the ${one.weightIn}`}`,
    one.backPercent === 0 ? '' : `${one.backPercent} % of bar length further back`,
    one.offsetMm === 0 ? '' : `${Math.abs(one.offsetMm)} mm to the ${one.offsetMm > 0 ? 'right' : 'left'}`,
    one.riseDeg === 0 ? '' : `${Math.abs(one.riseDeg)} degrees ${one.riseDeg > 0 ? 'uphill' : 'downhill'}`,
    one.girthN === 0 ? '' : `girth ${one.girthN} N each side`,
    one.archMm === 0 ? '' : `back ${one.archMm > 0 ? 'arched' : 'dipped'} ${Math.abs(one.archMm)} mm`,
    one.flattenPercent === 0 ? '' : `${one.flattenPercent} % of the back's dip gone`,
    one.widenMm === 0 ? '' : `back ${Math.abs(one.widenMm)} mm ${one.widenMm > 0 ? 'wider' : 'narrower'} each side`,
    one.flatterDeg === 0
      ? ''
      : `slopes ${Math.abs(one.flatterDeg)} degrees ${one.flatterDeg > 0 ? 'flatter' : 'steeper'}`,
    one.legForward === 'none' ? '' : `${one.legForward === 'both' ? 'both legs' : `${one.legForward} leg`} forward`,
  ].filter((part) => part !== '');
  return `${one.name}: ${said.join(', ')}. Source: ${one.source}.`;
}
