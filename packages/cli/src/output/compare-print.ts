import type { CompareResult, Comparison } from '../commands/compare.ts';
import type { Io } from '../io.ts';
import { SHORT_CAUTION } from './cautions.ts';
import { COMPARED_FIGURES } from './compare-figures.ts';
import type { Warning } from './envelope.ts';
import { plainText } from './plain-text.ts';
import { cell, tableText, wrapText } from './table.ts';

/** Figures side by side in one unit each, then for each fit what differs from the first in and out. */
export function printCompare({ fits, comparisons }: CompareResult, warnings: readonly Warning[], io: Io): void {
  const paragraph = (text: string): void => io.stderr(wrapText(plainText(text), '  '));
  io.stderr('\n');
  for (const { label, title, status } of fits) paragraph(`${label}: ${title}: ${status}`);
  io.stderr('\n');
  const heads = comparisons.map(({ before, after }) => `${after}-${before}`);
  const rows = COMPARED_FIGURES.map(({ name, label, unit, decimals }, k) => {
    const scaled = (value: number | null): number | null => (value === null || unit !== 'share' ? value : 100 * value);
    return [
      `${label}, ${unit === 'share' ? '%' : unit}`,
      ...fits.map(({ figures }) => cell(scaled(figures[name] ?? null), decimals)),
      ...comparisons.map(({ figures }) => signed(scaled(figures[k]!.delta), decimals)),
    ];
  });
  io.stderr(tableText([['', ...fits.map(({ label }) => label), ...heads], ...rows]));
  for (const comparison of comparisons) printOne(comparison, io);
  if (warnings.length > 0) io.stderr('\n');
  for (const { field, sentence } of warnings) paragraph(`Note${field === null ? '' : `, ${field}`}: ${sentence}`);
  io.stderr(
    `\n${wrapText('Nothing here puts one above the other. Area and mean say little without p95, peak and thirds.', '')}`,
  );
  io.stderr(`${wrapText(SHORT_CAUTION, '')}\n`);
}

function printOne({ before, after, inputs, findings, sentences }: Comparison, io: Io): void {
  const paragraph = (text: string): void => io.stderr(wrapText(plainText(text), '  '));
  io.stderr(`\nFrom ${before} to ${after}: what differs going in\n`);
  if (inputs.length === 0) paragraph('Nothing that is known.');
  const shown = (value: unknown): string =>
    plainText(typeof value === 'number' ? cell(value, Number.isInteger(value) ? 0 : 2) : String(value ?? '-'));
  io.stderr(
    tableText(
      inputs.map(({ key, side, unit, before: a, after: b, delta }) => [
        plainText(side === 'both' ? key : `${side} ${key}`),
        shown(a),
        shown(b),
        delta === null ? '' : signed(delta, 2),
        unit,
      ]),
    ),
  );
  io.stderr(`From ${before} to ${after}: findings\n`);
  if (findings.length === 0) paragraph('None in either, beyond the rules in use. That is not a verdict.');
  io.stderr(
    tableText(
      findings.map(({ code, side, change, beforeMm, afterMm, withinMeasuringError }) => [
        side === 'both' ? code : `${code}, ${side}`,
        change,
        `${cell(beforeMm, 1)} to ${cell(afterMm, 1)} mm`,
        withinMeasuringError ? 'within measuring error' : '',
      ]),
    ),
  );
  for (const sentence of sentences) paragraph(sentence);
}

function signed(value: number | null, decimals: number): string {
  const text = cell(value, decimals);
  return value !== null && value > 0 && Number(text) !== 0 ? `+${text}` : text;
}
