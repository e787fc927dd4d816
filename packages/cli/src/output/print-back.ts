import type { Proposal, ScanProposal } from '@barwright/geometry';
import type { BackResult } from '../commands/back.ts';
import type { Io } from '../io.ts';
import type { Warning } from './envelope.ts';
import { plainText } from './plain-text.ts';
import { tableText, wrapText } from './table.ts';

/** What is proposed or asked, why, and what was written; for reading. */
export function printBack(result: BackResult, file: string, warnings: readonly Warning[], io: Io): void {
  io.stderr(`${plainText(file)}: ${result.kind}\n`);
  if (result.proposal !== null) printProposal(result.proposal, io);
  for (const { id, question, choices, evidence } of result.questions) {
    io.stderr(wrapText(plainText(`Question ${id}: ${question} ${evidence}.`), '  '));
    io.stderr(tableText(choices.map((choice) => [plainText(`  ${choice.id}`), plainText(choice.meaning)])));
  }
  printCleaning(result, io);
  for (const { sentence } of warnings) io.stderr(wrapText(plainText(`Note: ${sentence}`), '  '));
  if (result.remeasure !== null) io.stderr(wrapText(result.remeasure.sentence, '  '));
  if (result.toConfirm.length > 0) {
    const remedy = 'Say it by its option, or take the proposals with --accept-proposals.';
    io.stderr(wrapText(`To confirm: ${plainText(result.toConfirm.join(', '))}. ${remedy}`, '  '));
  }
  if (result.written.length > 0) io.stderr(`  Written: ${plainText(result.written.join(', '))}\n`);
}

/** What was applied is said with its counts and the largest motion; what was not, only where something was found. */
function printCleaning({ cleaning }: BackResult, io: Io): void {
  for (const { step, applied, changed, sentence } of cleaning) {
    if (applied) io.stderr(wrapText(`Clean-up, ${step}: ${sentence}`, '  '));
    else if (changed > 0) io.stderr(wrapText(`Clean-up, not applied (--clean ${step}): ${sentence}`, '  '));
  }
  if (!cleaning.some(({ applied }) => applied)) return;
  const most = Math.max(...cleaning.map(({ largestMotionMm }) => largestMotionMm));
  io.stderr(wrapText(`Clean-up: no point that stays moved by more than ${most.toPrecision(2)} mm.`, '  '));
}

function printProposal(proposal: ScanProposal, io: Io): void {
  const { unit, up, tail, right, turn, mirrored, midplane, landmarks } = proposal;
  const parts: [string, Proposal<unknown>][] = [
    ['unit', unit],
    ['up', up],
    ['tail', tail],
    ['right', right],
    ['turn', turn],
    ['mirrored', mirrored],
    ['midplane', midplane],
    ...Object.entries(landmarks),
  ];
  const rows = parts.map(([name, part]) => [name, shown(part.value), part.given ? 'said' : part.confidence]);
  io.stderr(tableText([['', 'proposed', 'trust'], ...rows]));
  for (const [name, { given, reason, alternatives }] of parts) {
    if (given) continue;
    const others = alternatives
      .filter(({ score }) => score >= 0.02)
      .map(({ value, reason: why }) => ` Or ${shown(value)}: ${why}`);
    io.stderr(wrapText(plainText(`${name}: ${reason}${others.join('')}`), '  '));
  }
}

function shown(value: unknown): string {
  if (value === null) return '-';
  if (typeof value === 'string') return value;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (Array.isArray(value))
    return value.length === 9 ? 'a rotation' : value.map((n) => Number(n.toPrecision(5))).join(',');
  return 'a plane';
}
