import { TEXTS } from '../../look/texts.ts';
import type { CompareRow } from './compare-row.ts';

const T = TEXTS.compare;

/** One line of text on the page: pieces at places across, px. */
export interface PaperLine {
  readonly pieces: readonly { readonly x: number; readonly text: string }[];
  readonly kind: 'heading' | 'text' | 'small';
}

export interface PaperContent {
  readonly heading: string;
  readonly results: readonly string[];
  readonly seenFrom: string;
  readonly sentences: readonly string[];
  readonly groups: readonly { readonly title: string; readonly rows: readonly CompareRow[] }[];
  readonly letters: readonly string[];
  readonly cautions: readonly string[];
  readonly widthPx: number;
}

const LEFT = 24;
const HEIGHTS = { heading: 26, text: 17, small: 15 } as const;
const MARGIN = 20;
/** Mean width of a letter, px: on the wide side, so that nothing runs off the page. */
const LETTER_PX = { heading: 7.4, text: 6.4, small: 5.9 } as const;
const LABEL_PX = 300;

/** Text cut into lines that fit a width. */
export function wrap(text: string, letters: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > letters) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line];
}

/** Results, sentences, what differs, and the cautions in full, in lines. */
export function paperLines(content: PaperContent): PaperLine[] {
  const { heading, results, seenFrom, sentences, groups, letters, cautions, widthPx } = content;
  const room = widthPx - 2 * LEFT;
  const flow = (text: string, kind: PaperLine['kind']): PaperLine[] =>
    wrap(text, Math.floor(room / LETTER_PX[kind])).map((line) => ({ kind, pieces: [{ x: LEFT, text: line }] }));
  const tables = groups.flatMap(({ title, rows }) => [
    ...flow(title, 'heading'),
    ...(rows.length === 0
      ? flow(T.allEqual(title), 'text')
      : [
          tableLine([title, ...letters], room)[0]!,
          ...rows.flatMap(({ label, cells }) => tableLine([label, ...cells], room)),
        ]),
  ]);
  return [
    ...flow(heading, 'heading'),
    ...results.flatMap((line) => flow(line, 'text')),
    ...flow(seenFrom, 'small'),
    ...(sentences.length === 0 ? [] : flow(T.whatDiffers, 'heading')),
    ...sentences.flatMap((line) => flow(line, 'text')),
    ...flow(T.noRank, 'small'),
    ...tables,
    ...flow(TEXTS.reading.cautions, 'heading'),
    ...cautions.flatMap((line) => flow(line, 'small')),
  ];
}

/** A row of a table; long cells take further lines. */
function tableLine(cells: readonly string[], room: number): PaperLine[] {
  const columnPx = (room - LABEL_PX) / (cells.length - 1);
  const wrapped = cells.map((cell, i) => wrap(cell, Math.floor((i === 0 ? LABEL_PX : columnPx) / LETTER_PX.text) - 1));
  const count = Math.max(...wrapped.map(({ length }) => length));
  const x = (i: number): number => (i === 0 ? LEFT : LEFT + LABEL_PX + (i - 1) * columnPx);
  return Array.from({ length: count }, (_, line) => ({
    kind: 'text',
    pieces: wrapped.flatMap((parts, i) => (parts[line] === undefined ? [] : [{ x: x(i), text: parts[line] }])),
  }));
}

export const paperTextHeight = (lines: readonly PaperLine[]): number =>
  lines.reduce((sum, { kind }) => sum + HEIGHTS[kind], 2 * MARGIN);

export function PaperText({ lines, topPx }: { lines: readonly PaperLine[]; topPx: number }) {
  let y = topPx + MARGIN;
  return (
    <g className="paper-text">
      {lines.map((line, i) => {
        y += HEIGHTS[line.kind];
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: lines of a finished page stay in their places
          <g key={i}>
            {line.pieces.map(({ x, text }) => (
              <text key={x} className={`paper-${line.kind}`} x={x} y={y}>
                {text}
              </text>
            ))}
          </g>
        );
      })}
    </g>
  );
}
