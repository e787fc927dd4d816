import { FINDING_WORDS } from '@barwright/geometry';
import type { ReachPlace, ReachResult } from '../commands/reach.ts';
import type { Io } from '../io.ts';
import { SHORT_CAUTION } from './cautions.ts';
import type { Warning } from './envelope.ts';
import { plainText } from './plain-text.ts';
import { cell, tableText, wrapText } from './table.ts';

/** Figures in the table along slope: every second node, as wide as a terminal allows. */
const MOST_COLUMNS = 9;

/** The map as a table of ratios, the strip under it, and what they say. */
export function printReach(result: ReachResult, warnings: readonly Warning[], io: Io): void {
  const paragraph = (text: string): void => io.stderr(wrapText(plainText(text), '  '));
  const { slopesDeg, sagsMm } = result;
  const columns = thinned(slopesDeg.length, MOST_COLUMNS);
  const rows = thinned(sagsMm.length, MOST_COLUMNS).reverse();
  io.stderr(`\n${plainText(`${result.pattern} around ${result.back}`)}: the worst finding, in times its rule\n`);
  const head = ['sag mm \\ slope deg', ...columns.map((c) => signed(slopesDeg[c]!))];
  const body = rows.map((r) => [
    signed(sagsMm[r]!),
    ...columns.map((c) => placeText(result.nodes[r * slopesDeg.length + c]!)),
  ]);
  io.stderr(tableText([head, ...body]));
  io.stderr(`\nSet position against ${cell(result.setPositionMm, 0)} mm, on the back as measured\n`);
  const { positions } = result;
  io.stderr(
    tableText([
      ['mm', ...positions.map(({ stepMm }) => signed(stepMm))],
      ['', ...positions.map(placeText)],
    ]),
  );
  const used = new Set([...result.nodes, ...positions].map(({ code }) => code));
  const keys = Object.entries(LETTERS).filter(([code]) => used.has(code as ReachPlace['code']));
  paragraph(
    `${keys.map(([code, letters]) => `${letters} ${FINDING_WORDS[code as keyof typeof LETTERS]}`).join(', ')}.`,
  );
  io.stderr('\n');
  for (const sentence of result.sentences) paragraph(sentence);
  for (const { sentence } of warnings) paragraph(`Note: ${sentence}`);
  io.stderr(`\n${wrapText(SHORT_CAUTION, '')}\n`);
}

const LETTERS = {
  bridging: 'br',
  rocking: 'ro',
  'inner-edge-bearing': 'ie',
  'outer-edge-bearing': 'oe',
  'too-steep': 'st',
  'too-flat': 'fl',
  'pressure-point': 'pp',
  'layer-solid': 'ls',
  'past-last-rib': 'lr',
  'blade-under-tip': 'bt',
  'low-spine-clearance': 'sp',
  'over-flex': 'of',
  'off-the-data': 'od',
} as const;

/** "2.1 br"; without letters where there is no finding. */
function placeText({ code, ratio }: ReachPlace): string {
  if (ratio === null) return '-';
  const letters = code !== null && ratio > 1 ? (LETTERS[code as keyof typeof LETTERS] ?? '') : '  ';
  return `${ratio.toFixed(1)} ${letters}`;
}

/** Places from first to last with the middle among them. */
function thinned(count: number, most: number): number[] {
  const middle = (count - 1) / 2;
  const step = Math.max(1, Math.ceil((count - 1) / (most - 1)));
  return Array.from({ length: count }, (_, i) => i).filter((i) => (i - middle) % step === 0);
}

const signed = (value: number): string => `${value > 0 ? '+' : ''}${cell(value, 1)}`;
