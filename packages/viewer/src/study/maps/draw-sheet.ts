import { CORE_FROM, CORE_TO, MM_PER_INCH, toHex } from '@barwright/geometry';
import { figureText, lengthFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import type { Look } from '../../scene/look-of.ts';
import { drawBar, INK, type ToPage } from './draw-bar.ts';
import type { FlatBar } from './flat-bar.ts';

const T = TEXTS.maps;

export interface Sheet {
  readonly left: FlatBar;
  readonly right: FlatBar;
  readonly look: Look;
  readonly units: Units;
  /** Where the fork's foot ends and the cantle's begins, mm from the front tip. */
  readonly forkBackMm: number;
  readonly cantleFrontMm: number;
  readonly title: string;
  readonly notes: readonly string[];
}

const MARGIN = 22;
const HEAD = 34;
const FOOT = 58;
const SOFT = '#5a564d';
const ACCENT = '#1f56a8';
const STOPS = 24;
/** Printed at half size: the sheet of a long tree then fits across A3. */
export const REDUCTION = 2;

const escaped = (text: string): string =>
  text.replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]!);
const text = (x: number, y: number, words: string, more = ''): string =>
  `<text x="${x.toFixed(1)}" y="${y.toFixed(1)}" ${more}>${escaped(words)}</text>`;
const rule = (x1: number, y1: number, x2: number, y2: number, more: string): string =>
  `<line x1="${x1.toFixed(1)}" y1="${y1.toFixed(1)}" x2="${x2.toFixed(1)}" y2="${y2.toFixed(1)}" ${more}/>`;

/**
 * Both undersides laid flat as SVG text, one user unit to a millimetre of the tree in both directions: front tip to the
 * left, left bar above, inner edges facing each other over the midline. Everything is styled in the file itself.
 */
export function drawSheet(sheet: Sheet): string {
  const { left, right, look, units } = sheet;
  const reach = Math.max(...left.across, ...right.across);
  const length = Math.max(left.lengthMm, right.lengthMm);
  const midY = MARGIN + HEAD + reach;
  const width = length + 2 * MARGIN + 30;
  const bottom = midY + reach + FOOT;
  const height = bottom + 11 * sheet.notes.length + 8;
  const place =
    (sign: number): ToPage =>
    (along, across) => [MARGIN + 30 + along, midY + sign * across];
  const figure = (value: number): string => escaped(figureText({ ...look.figureOf(value, units), unit: '' }));
  const body = [
    text(MARGIN, 18, sheet.title, 'font-size="12" font-weight="600"'),
    drawBar(left, look, figure, place(-1)),
    drawBar(right, look, figure, place(1)),
    text(MARGIN, midY - reach / 2, T.left, `font-size="9" fill="${SOFT}"`),
    text(MARGIN, midY + reach / 2, T.right, `font-size="9" fill="${SOFT}"`),
    drawStations(place(0), midY, length, units),
    drawZones(sheet, place(1), midY, reach, length),
    drawLegend(sheet, bottom - 24, width),
    ...sheet.notes.map((note, i) => text(MARGIN, bottom + 14 + 11 * i, note, `font-size="7.5" fill="${SOFT}"`)),
  ].join('\n');
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${(width / REDUCTION).toFixed(1)}mm" height="${(height / REDUCTION).toFixed(1)}mm" viewBox="0 0 ${width.toFixed(1)} ${height.toFixed(1)}" font-family="'Source Sans 3 Variable', 'Source Sans 3', sans-serif" fill="${INK}">
<title>${escaped(sheet.title)}</title>
<defs><pattern id="no-data" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="6" stroke="#8d8b86" stroke-width="1.6"/></pattern></defs>
<rect width="100%" height="100%" fill="#ffffff"/>
${body}
</svg>
`;
}

/** The midline as a ruler from the front tip. */
function drawStations(at: ToPage, midY: number, length: number, units: Units): string {
  const step = units.length === 'in' ? 2 * MM_PER_INCH : 50;
  const parts = [rule(at(0, 0)[0], midY, at(length, 0)[0], midY, `stroke="${SOFT}" stroke-width="0.6"`)];
  for (let b = 0; b <= length; b += step) {
    const [x] = at(b, 0);
    parts.push(rule(x, midY - 3, x, midY + 3, `stroke="${SOFT}" stroke-width="0.6"`));
    const words = figureText(lengthFigure(b, units, { decimals: 0 }));
    parts.push(text(x, midY + 11, words, `font-size="7.5" text-anchor="middle" fill="${SOFT}"`));
  }
  return parts.join('');
}

/** Core zone, and where fork and cantle stand on the bars. */
function drawZones(
  { forkBackMm, cantleFrontMm }: Sheet,
  at: ToPage,
  midY: number,
  reach: number,
  length: number,
): string {
  const top = midY - reach - 4;
  const mark = (b: number, dash: string): string => {
    const [x] = at(b, 0);
    return rule(x, top, x, midY + reach + 4, `stroke="${ACCENT}" stroke-width="0.7" stroke-dasharray="${dash}"`);
  };
  const name = (from: number, to: number, words: string, y: number): string =>
    text(at((from + to) / 2, 0)[0], y, words, `font-size="8" text-anchor="middle" fill="${ACCENT}"`);
  const [coreFrom, coreTo] = [CORE_FROM * length, CORE_TO * length];
  return [
    mark(coreFrom, '5 3'),
    mark(coreTo, '5 3'),
    mark(forkBackMm, '1.5 2'),
    mark(cantleFrontMm, '1.5 2'),
    name(0, forkBackMm, T.fork, midY + reach + 13),
    name(cantleFrontMm, length, T.cantle, midY + reach + 13),
    name(coreFrom, coreTo, T.core, top - 2),
  ].join('');
}

function drawLegend({ look, units }: Sheet, y: number, width: number): string {
  const { from, to } = look.table;
  const [x, wide] = [MARGIN + 110, Math.min(260, width - 2 * MARGIN - 220)];
  const box = wide / STOPS;
  const parts = [text(MARGIN, y + 9, look.title, 'font-size="9" font-weight="600"')];
  for (let i = 0; i < STOPS; i++) {
    const fill = toHex(look.colourAt(from + ((i + 0.5) / STOPS) * (to - from)));
    parts.push(
      `<rect x="${(x + i * box).toFixed(2)}" y="${y}" width="${(box + 0.2).toFixed(2)}" height="11" fill="${fill}"/>`,
    );
  }
  parts.push(`<rect x="${x}" y="${y}" width="${wide}" height="11" fill="none" stroke="${SOFT}" stroke-width="0.5"/>`);
  for (const share of [0, 0.25, 0.5, 0.75, 1]) {
    const words = figureText(look.figureOf(from + share * (to - from), units));
    parts.push(text(x + share * wide, y + 20, words, 'font-size="7.5" text-anchor="middle"'));
  }
  const end = x + wide + 14;
  parts.push(
    `<rect x="${end}" y="${y}" width="16" height="11" fill="url(#no-data)" stroke="${SOFT}" stroke-width="0.5"/>`,
  );
  parts.push(text(end + 20, y + 9, TEXTS.noData, 'font-size="8"'));
  parts.push(
    text(end + 62, y + 9, `${TEXTS.scene.lineEach} ${figureText(look.figureOf(look.step, units))}`, 'font-size="8"'),
  );
  return parts.join('');
}
