import { INK, LIGHT_INK } from './pressure-map-paper.ts';
import { type TextStyle, textAt } from './pressure-map-text.ts';

/** Page units to a millimetre, as on the other drawings. */
export const SHEET_UNITS = 4;

/** [right, down] or [right, up] in mm, as the drawing says. */
type PenPoint = readonly [number, number];

/** Draws with millimetres of one sheet's paper, x from its left edge, y down. */
export interface SheetPen {
  readonly widthMm: number;
  readonly heightMm: number;
  line(x1: number, y1: number, x2: number, y2: number, colour?: string, widthMm?: number, dash?: string): string;
  text(x: number, y: number, words: string, sizeMm: number, style?: Omit<TextStyle, 'size'>): string;
  fill(points: readonly PenPoint[], colour: string): string;
}

/** Page units of a length, exact to a thousandth: marks are not rounded to tenths as labels are. */
export const page = (lengthMm: number): string => String(Math.round(lengthMm * SHEET_UNITS * 1000) / 1000);

export function sheetPen(widthMm: number, heightMm: number): SheetPen {
  return {
    widthMm,
    heightMm,
    line: (x1, y1, x2, y2, colour = INK, thick = 0.25, dash) =>
      `<line x1="${page(x1)}" y1="${page(y1)}" x2="${page(x2)}" y2="${page(y2)}" stroke="${colour}" stroke-width="${page(thick)}"${dash === undefined ? '' : ` stroke-dasharray="${dash}"`}/>`,
    text: (x, y, words, sizeMm, style = {}) =>
      textAt(x * SHEET_UNITS, y * SHEET_UNITS, words, { ...style, size: sizeMm * SHEET_UNITS }),
    fill: (points, colour) =>
      `<polygon points="${points.map(([x, y]) => `${page(x)},${page(y)}`).join(' ')}" fill="${colour}"/>`,
  };
}

/** A dimension line with its head at the second end. */
export function arrow(
  pen: SheetPen,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  colour = LIGHT_INK,
  head = 2,
): string {
  const length = Math.hypot(x2 - x1, y2 - y1);
  const [ux, uy] = [(x2 - x1) / length, (y2 - y1) / length];
  const wing = head * 0.35;
  const [bx, by] = [x2 - head * ux, y2 - head * uy];
  return (
    pen.line(x1, y1, bx, by, colour, head > 2 ? 0.6 : 0.2) +
    pen.fill(
      [
        [x2, y2],
        [bx - wing * uy, by + wing * ux],
        [bx + wing * uy, by - wing * ux],
      ],
      colour,
    )
  );
}
