import { ACCENT, FONT, INK, LIGHT_INK } from './pressure-map-paper.ts';
import { escapeXml, textWidth } from './pressure-map-text.ts';
import { arrow, page, type SheetPen, sheetPen } from './sheet-pen.ts';
import { CODE_CELLS, MARK_CELLS, type SheetPaper } from './tracing-sheet-codes.ts';
import { drawFields, drawInstructions } from './tracing-sheet-fields.ts';
import { SHEET_CELL_MM, SHEET_LAYOUT, type SheetPoint, type SheetTile, sheetTile } from './tracing-sheet-layout.ts';

export interface TracingSheetOptions {
  readonly paper: SheetPaper;
  /** Sheets side by side, 1 to 4; default 3, which hold a section 590 mm wide. */
  readonly tiles?: number;
}

const PAPER_NAMES: Readonly<Record<SheetPaper, string>> = { a4: 'A4', letter: 'Letter' };

/**
 * Sheets to trace on, one SVG page each in true size: four marks that a photo is read by, known distances, a level line,
 * the midline, lines to tape along, fields and a 100 mm bar. The reader of photos uses the same numbers (sheetTile).
 * @throws InputError as sheetTile
 */
export function tracingSheet(options: TracingSheetOptions): string[] {
  const tiles = options.tiles ?? 3;
  sheetTile(options.paper, tiles, 1);
  return Array.from({ length: tiles }, (_, k) => drawTile(sheetTile(options.paper, tiles, k + 1)));
}

function drawTile(tile: SheetTile): string {
  const { widthMm: w, heightMm: h } = tile;
  const pen = sheetPen(w, h);
  const title = `Tracing sheet ${tile.tile} of ${tile.tiles}, ${PAPER_NAMES[tile.paper]}`;
  const body = [
    ...tile.marks.map((mark) => drawMark(mark.code, onPaper(tile, mark.cornersMm[0]))),
    ...tile.discs.map((disc) => {
      const [x, y] = onPaper(tile, disc.centreMm);
      return `<circle cx="${page(x)}" cy="${page(y)}" r="${page(disc.radiusMm)}" fill="#000"/>`;
    }),
    drawTapeLines(tile, pen),
    drawLevelAndMidline(tile, pen),
    drawDistances(tile, pen),
    drawTop(tile, title, pen),
    drawFields(pen),
    drawInstructions(pen),
  ];
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="0 0 ${page(w)} ${page(h)}" font-family="${FONT}" fill="${INK}">
<title>${escapeXml(title)}</title>
<style>@page { size: ${w}mm ${h}mm; margin: 0 }</style>
<rect width="${page(w)}" height="${page(h)}" fill="#fff"/>
${body.join('\n')}
</svg>
`;
}

const onPaper = (tile: SheetTile, [right, up]: SheetPoint): SheetPoint => [
  right - tile.leftTopMm[0],
  tile.leftTopMm[1] - up,
];

/** Black frame, white ring, code: one path of all runs of black cells, so that no renderer leaves hairlines between them. */
function drawMark(code: number, [left, top]: SheetPoint): string {
  const runs: string[] = [];
  const c = SHEET_CELL_MM;
  for (let row = 0; row < MARK_CELLS; row++) {
    for (let from = 0; from < MARK_CELLS; from++) {
      if (!isBlackCell(code, row, from)) continue;
      let to = from;
      while (to < MARK_CELLS && isBlackCell(code, row, to)) to++;
      const [x1, x2, y1, y2] = [left + from * c, left + to * c, top + row * c, top + (row + 1) * c].map(page);
      runs.push(`M${x1} ${y1}H${x2}V${y2}H${x1}Z`);
      from = to;
    }
  }
  return `<path d="${runs.join('')}" fill="#000"/>`;
}

/** Whether a cell of a mark is printed black; rows from the top, columns from the left. */
export function isBlackCell(code: number, row: number, column: number): boolean {
  const last = MARK_CELLS - 1;
  if (row === 0 || column === 0 || row === last || column === last) return true;
  if (row === 1 || column === 1 || row === last - 1 || column === last - 1) return false;
  return ((code >> (CODE_CELLS * (row - 2) + column - 2)) & 1) === 1;
}

function drawTapeLines(tile: SheetTile, pen: SheetPen): string {
  const { widthMm: w, heightMm: h } = pen;
  const t = SHEET_LAYOUT.tapeMm;
  const parts: string[] = [];
  const cross = (x: number): string =>
    [SHEET_LAYOUT.levelMm, h / 2, h - SHEET_LAYOUT.levelMm]
      .map((y) => pen.line(x - 4, y, x + 4, y, ACCENT, 0.3))
      .join('');
  const along = (x: number, words: string): string =>
    `<g transform="rotate(-90 ${page(x)} ${page(h - 62)})">${pen.text(x, h - 62, words, 2.7, { colour: ACCENT })}</g>`;
  if (tile.tile > 1) {
    parts.push(pen.line(t, 6, t, h - 6, ACCENT, 0.25, '8 6'), cross(t));
    parts.push(along(t - 1.5, `Cut along this line, lay it on the right line of sheet ${tile.tile - 1}, and tape.`));
  }
  if (tile.tile < tile.tiles) {
    parts.push(pen.line(w - t, 6, w - t, h - 6, ACCENT, 0.25, '8 6'), cross(w - t));
    parts.push(along(w - t + 4, `The cut edge of sheet ${tile.tile + 1} lies here, crosses on crosses.`));
  }
  return parts.join('\n');
}

function drawLevelAndMidline(tile: SheetTile, pen: SheetPen): string {
  const { widthMm: w, heightMm: h } = pen;
  const { levelMm: y, tapeMm } = SHEET_LAYOUT;
  const from = tile.tile > 1 ? tapeMm : 14;
  const to = tile.tile < tile.tiles ? w - tapeMm : w - 14;
  const parts = [
    pen.line(from, y, to, y, ACCENT, 0.35),
    pen.text(40, y - 1.6, 'Level line: where the spirit level lay', 3, { colour: ACCENT }),
  ];
  const x = -tile.leftTopMm[0];
  if (x >= tapeMm - 1e-9 && x <= w - tapeMm + 1e-9) {
    parts.push(pen.line(x, y - 5, x, h - 68, ACCENT, 0.25, '2 5'));
    parts.push(
      pen.text(x > w - 40 ? x - 1.6 : x + 1.6, y + 4.4, 'midline (spine)', 3, {
        colour: ACCENT,
        anchor: x > w - 40 ? 'end' : 'start',
      }),
    );
  }
  return parts.join('\n');
}

/** The distances between the marks' outer edges, beside them. */
function drawDistances(tile: SheetTile, pen: SheetPen): string {
  const { widthMm: w, heightMm: h } = pen;
  const { markInsetMm: i, markMm: m } = SHEET_LAYOUT;
  const across = `${tile.acrossMm.toFixed(1)} mm between the outer edges of the marks`;
  const down = `${tile.downMm.toFixed(1)} mm`;
  const y = i - 3.2;
  const room = textWidth(across, 2.7) / 2 + 2;
  const x = i + m / 2;
  const [topY, bottomY] = [i + m + 12, h - i - m - 6];
  return [
    arrow(pen, w / 2 - room, y, i, y),
    arrow(pen, w / 2 + room, y, w - i, y),
    pen.text(w / 2, y + 0.9, across, 2.7, { anchor: 'middle', colour: LIGHT_INK }),
    pen.line(i, y - 1.6, i, y + 1.6, LIGHT_INK),
    pen.line(w - i, y - 1.6, w - i, y + 1.6, LIGHT_INK),
    `<g transform="rotate(-90 ${page(x - 8)} ${page((topY + bottomY) / 2 - 24)})">${pen.text(x - 8, (topY + bottomY) / 2 - 24, `${down} between outer edges`, 2.7, { colour: LIGHT_INK, anchor: 'middle' })}</g>`,
  ].join('\n');
}

function drawTop(tile: SheetTile, title: string, pen: SheetPen): string {
  const { widthMm: w } = pen;
  const left = 40;
  const x = w / 2 + 8;
  const { widthMm, heightMm } = tile;
  return [
    pen.text(left, 21, title, 4.4, { bold: true }),
    pen.text(left, 26.5, `${widthMm} x ${heightMm} mm, this side up`, 3, { colour: LIGHT_INK }),
    pen.text(left, 31, tile.tiles > 1 ? 'Tape all sheets before tracing.' : 'For one side or a short piece.', 3, {
      colour: LIGHT_INK,
    }),
    arrow(pen, x + 2, 33, x + 2, 18, INK, 3.5),
    pen.text(x + 5.5, 21, 'up', 3.6, { bold: true }),
    arrow(pen, x + 10, 31, x + 26, 31, INK, 3.5),
    pen.text(x + 28, 29.4, "across: horse's right", 3.1, { bold: true }),
    pen.text(x + 28, 33.4, 'lengthwise: tail', 3.1, { bold: true }),
  ].join('\n');
}
