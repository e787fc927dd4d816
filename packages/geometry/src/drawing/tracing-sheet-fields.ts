import { INK, LIGHT_INK } from './pressure-map-paper.ts';
import type { SheetPen } from './sheet-pen.ts';
import { SHEET_LAYOUT } from './tracing-sheet-layout.ts';

const BAR_MM = 100;

/** Who, where, when: written on every sheet, so that a loose one still says what it is. */
export function drawFields(pen: SheetPen): string {
  const { widthMm: w, heightMm: h } = pen;
  const [left, right] = [42, w - 42];
  const row = (i: number): number => h - 57 + 6.6 * i;
  const middle = left + (right - left) * 0.56;
  return [
    field(pen, 'Horse', left, middle - 3, row(0)),
    field(pen, 'Date', middle, right, row(0)),
    field(pen, 'Station', left, left + 44, row(1)),
    pen.text(left + 45.5, row(1), 'mm / in behind the blade edge', 3),
    field(pen, 'By', middle + 20, right, row(1)),
    pen.text(left, row(2), 'Kind', 3),
    boxes(pen, ['across', 'lengthwise'], left + 8, row(2)),
    pen.text(middle - 7, row(2), 'Side', 3),
    boxes(pen, ['left', 'right', 'both'], middle + 1, row(2)),
    pen.text(
      left,
      row(3),
      'Seen from behind the horse: its left is on the left. Draw one line, dark, not over the marks.',
      2.7,
      {
        colour: LIGHT_INK,
      },
    ),
  ].join('\n');
}

function field(pen: SheetPen, words: string, from: number, to: number, y: number): string {
  const start = from + 2.2 + words.length * 1.62;
  return pen.text(from, y, words, 3) + pen.line(start, y + 0.6, to, y + 0.6, LIGHT_INK, 0.2);
}

function boxes(pen: SheetPen, words: readonly string[], from: number, y: number): string {
  let x = from;
  return words
    .map((word) => {
      const box =
        pen.line(x, y, x + 2.6, y, LIGHT_INK, 0.2) +
        pen.line(x, y - 2.6, x + 2.6, y - 2.6, LIGHT_INK, 0.2) +
        pen.line(x, y, x, y - 2.6, LIGHT_INK, 0.2) +
        pen.line(x + 2.6, y, x + 2.6, y - 2.6, LIGHT_INK, 0.2);
      const label = pen.text(x + 3.8, y, word, 3);
      x += 7.5 + word.length * 1.55;
      return box + label;
    })
    .join('');
}

/** The bar by which a print in the wrong size is found before anything is traced. */
export function drawInstructions(pen: SheetPen): string {
  const { widthMm: w, heightMm: h } = pen;
  const y = h - SHEET_LAYOUT.markInsetMm - 1;
  const left = w / 2 - BAR_MM / 2;
  const ticks = Array.from({ length: 11 }, (_, i) =>
    pen.line(left + 10 * i, y - (i % 5 === 0 ? 2.4 : 1.4), left + 10 * i, y, INK, 0.25),
  );
  return [
    pen.line(left, y, left + BAR_MM, y, INK, 0.4),
    ...ticks,
    pen.text(w / 2, y - 3.4, 'Print at 100 %, measure this bar: 100 mm.', 3, { anchor: 'middle', bold: true }),
    pen.text(w / 2, y + 4, 'If it is not 100 mm, do not trace on this sheet: print it again without scaling.', 2.7, {
      anchor: 'middle',
      colour: LIGHT_INK,
    }),
  ].join('\n');
}
