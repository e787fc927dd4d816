import {
  FINDING_WORDS,
  KG_PER_POUND,
  NEAR_RATIO,
  type SizeCell,
  type SolvedCapacity,
  STANDARD_GRAVITY,
  setupOfCell,
} from '@barwright/geometry';
import type { SizeCommandResult } from '../commands/size.ts';
import type { SizeInputs } from '../inputs/read-size-inputs.ts';
import type { Io } from '../io.ts';
import { SHORT_CAUTION } from './cautions.ts';
import type { Warning } from './envelope.ts';
import { plainText } from './plain-text.ts';
import { assumptionLines } from './print-fit.ts';
import { cell, tableText, wrapText } from './table.ts';

type Row = SizeCommandResult['rows'][number];

const LEGEND =
  'Worst: the finding furthest over its rule, of all cases of riding; times: its size over that rule. Room: the longest bar whose bearing ends at the last rib. p95: the highest 95th percentile of all cases.';
const NEAR = `Near is said of a tree whose worst is at most ${NEAR_RATIO} times its rule, in every case (our own judgement, no source). Rules: common practice, no source, unless the setup says who set them.`;
const CAPACITY =
  'Bears: what the tree bears on this back, standing, before its mean, 95th percentile or peak reaches the limit of the setup (which of them first is named); rider, gear and saddle together. It is a figure of the tree on this surface, not permission for a rider of that weight: that hangs on the horse, and welfare law, venue rules and weight policies come first.';

/** A tree in one line while the rest is being worked out. */
export function rowLine({ seat, width, tip, worst, cases }: SizeCell): string {
  const odd = cases.find(({ status }) => status !== 'settled');
  if (odd !== undefined) return `${seat} ${width} ${tip}: ${odd.status} at ${odd.name}`;
  if (worst === null) return `${seat} ${width} ${tip}: nothing beyond the rules in use`;
  return `${seat} ${width} ${tip}: ${FINDING_WORDS[worst.code]} ${cell(worst.sizeMm, 1)} mm, ${cell(worst.ratio, 1)} times its rule, at ${worst.inCase}`;
}

/** The shelf as a table, the answer, and a reason for each tree. */
export function printSize(result: SizeCommandResult, warnings: readonly Warning[], inputs: SizeInputs, io: Io): void {
  const paragraph = (text: string): void => io.stderr(wrapText(plainText(text), '  '));
  const heading = (text: string): void => io.stderr(`\n${io.bold ? `\u001b[1m${text}\u001b[22m` : text}\n`);
  const { rider, shelf, standing, setup } = inputs;
  io.stderr(`\n${plainText(`${shelf.name} for ${rider.name} on ${inputs.back.document.name}`)}\n`);
  const padded = setupOfCell(setup, shelf, rider, shelf.pads[0] ?? null);
  for (const line of assumptionLines(padded, standing.measured, [])) paragraph(line);
  paragraph(`Riding: ${rider.riding.name}. Cells: ${setup.samples} a tree; fit takes ${inputs.ownSetup.samples}.`);
  paragraph(seatLine(result));
  heading('Every tree of the shelf');
  io.stderr(rowsTable(result));
  paragraph(LEGEND);
  paragraph(NEAR);
  paragraph(CAPACITY);
  heading('What is closest');
  for (const line of answerLines(result)) paragraph(line);
  heading(result.closest === null ? 'Why each was not taken' : 'Why not the others');
  for (const line of reasonLines(result.rows)) paragraph(line);
  heading('Held pressure, as context');
  io.stderr(heldTable(result));
  paragraph(result.heldPressure.caution);
  if (warnings.length > 0) heading('Notes');
  for (const { field, sentence } of warnings) paragraph(`${field}: ${sentence}`);
  io.stderr(`\n${wrapText(SHORT_CAUTION, '')}\n`);
}

/** What is left when somebody ended it: no table, since nothing is chosen from part of a shelf. */
export function printStopped({ rows, shelf }: SizeCommandResult, io: Io): void {
  io.stderr(
    `Stopped after ${rows.length} of ${shelf.trees} trees. Nothing is chosen from part of a shelf, and no file was written; the trees that were done are in the JSON document.\n`,
  );
}

function seatLine({ seatRange }: SizeCommandResult): string {
  if (seatRange === null) return '';
  const { fromIn, toIn, source, isBeyondTable } = seatRange;
  const beyond = isBeyondTable ? '; the rider is off its ends, the nearest row stands in' : '';
  return `Seats usual for this rider: ${fromIn} to ${toIn} in (${source}${beyond}).`;
}

function rowsTable({ rows, closest }: SizeCommandResult): string {
  const names = (row: Row): string[] => [row.seat, plainText(row.width), plainText(row.tip)];
  return tableText([
    ['', 'seat', 'width', 'tip', 'bar mm', 'room mm', 'worst', 'mm', 'times', 'p95 kPa', 'bears, pad', 'no pad', ''],
    ...rows.map((row, i) => [
      `${i + 1}`,
      ...names(row),
      cell(row.barLengthMm, 0),
      cell(row.roomMm, 0),
      row.worst === null ? 'nothing beyond the rules' : FINDING_WORDS[row.worst.code],
      row.worst === null ? '-' : cell(row.worst.sizeMm, 1),
      row.worst === null ? '-' : cell(row.worst.ratio, 1),
      cell(Math.max(...row.cases.map(({ p95PressureKPa }) => p95PressureKPa)), 1),
      ...bearsOf(row),
      remark(row, i === closest),
    ]),
  ]);
}

/** With the pad and without. Where a case left the data, so may the load that is raised: then nothing is said of it. */
function bearsOf(row: Row): [string, string] {
  const { withPad, withoutPad } = row.capacity;
  if (oddStatus(row) !== null && withPad.firstN === null)
    return ["can't tell", withoutPad === null ? '-' : "can't tell"];
  return [bears(withPad), withoutPad === null ? '-' : bears(withoutPad)];
}

const oddStatus = ({ cases }: Row): string | null => cases.find(({ status }) => status !== 'settled')?.status ?? null;

function remark(row: Row, isClosest: boolean): string {
  if (isClosest) return 'closest';
  return row.isInSeatRange === false ? 'other seat' : (oddStatus(row) ?? '');
}

/** The first load at which a limit is reached, in lb and kg, and which limit it is. */
function bears({ firstN, firstReached }: SolvedCapacity): string {
  if (firstN === null) return 'no limit met';
  const kg = firstN / STANDARD_GRAVITY;
  return `${cell(kg / KG_PER_POUND, 0)} lb (${cell(kg, 0)} kg) ${firstReached}`;
}

function answerLines({ rows, closest, needed }: SizeCommandResult): string[] {
  if (closest === null) {
    const asked = rows.filter(({ isInSeatRange }) => isInSeatRange);
    if (asked.length > 0 && asked.every((row) => oddStatus(row) !== null)) {
      return [
        `It can't be told whether anything on this shelf is near this back: every tree of the rider's seats ends "${oddStatus(asked[0]!)}" in some case. From what there is of the back, it would take:`,
        ...needed,
      ];
    }
    return ['Nothing on this shelf is near this back. It would take, for this rider:', ...needed];
  }
  const row = rows[closest]!;
  const shows =
    row.worst === null
      ? 'nothing beyond the rules in use. That is not a verdict'
      : `${FINDING_WORDS[row.worst.code]} ${cell(row.worst.sizeMm, 1)} mm, ${cell(row.worst.ratio, 1)} times its rule, at ${row.worst.inCase}`;
  return [
    `Closest of this rider's seats: ${closest + 1}. ${row.seat} ${row.width}, ${row.tip}. Its worst: ${shows}.`,
    `It bears ${bears(row.capacity.withPad)} with the ${row.capacity.padLabel}${row.capacity.withoutPad === null ? '' : `, ${bears(row.capacity.withoutPad)} without`}, on this back, standing: not permission for a rider of that weight.`,
    'Closest means of the trees on this shelf; whether it goes on this horse is for a saddle fitter, on the horse.',
  ];
}

/** One reason per tree; neighbours of the same reason share a line. */
function reasonLines(rows: SizeCommandResult['rows']): string[] {
  const lines: { from: number; to: number; reason: string }[] = [];
  for (const [i, { reason }] of rows.entries()) {
    if (reason === null) continue;
    const last = lines.at(-1);
    if (last?.reason === reason && last.to === i) last.to = i + 1;
    else lines.push({ from: i + 1, to: i + 1, reason });
  }
  return lines.map(({ from, to, reason }) => `${from === to ? from : `${from} to ${to}`}. ${reason}`);
}

function heldTable({ heldPressure: { curve } }: SizeCommandResult): string {
  return tableText([
    ['hours', ...curve.map(({ hours }) => String(hours))],
    ['kPa', ...curve.map(({ pressureKPa }) => cell(pressureKPa, 1))],
  ]);
}
