import type { Tree } from '../bar/index.ts';
import { INK, LIGHT_INK } from './pressure-map-paper.ts';
import { breakLines, figure } from './pressure-map-text.ts';
import { page, type SheetPen } from './sheet-pen.ts';
import type { TipDimensions } from './tip-section-shape.ts';

/** One material of the bar as warm and as long under load as the drawing is for. */
export interface TipMaterial {
  readonly place: 'bar' | 'lower' | 'tip';
  readonly name: string;
  readonly temperatureC: number;
  readonly hours: number;
  /** Modulus along the bar at that warmth and time, and span of the material's own at 23 degrees. */
  readonly alongMPa: number;
  readonly rangeMPa: readonly [low: number, high: number];
  readonly source: string;
}

export const PLACE_WORDS: Readonly<Record<TipMaterial['place'], string>> = {
  lower: 'lower layer, next to the horse',
  tip: 'tip',
  bar: 'bar',
};

/** Hatchings of the three places: told apart by direction and spacing, not by colour. */
export const TIP_PATTERNS = [
  hatching('lower', 5, 45),
  hatching('tip', 8, -45),
  hatching('bar', 11, 90),
  hatching('foot', 4, 0),
].join('');

function hatching(name: string, spacing: number, turn: number): string {
  return `<pattern id="ply-${name}" width="${spacing}" height="${spacing}" patternUnits="userSpaceOnUse" patternTransform="rotate(${turn})"><line x1="0" y1="0" x2="${spacing}" y2="0" stroke="${LIGHT_INK}" stroke-width="0.9"/></pattern>`;
}

export interface NotesPlace {
  readonly xMm: number;
  readonly topMm: number;
  readonly widthMm: number;
}

/** Materials, their table, what the drawing rests on and the cautions, beside the section. */
export function drawTipNotes(
  { right: { shape } }: Pick<Tree, 'right'>,
  of: TipDimensions,
  materials: readonly TipMaterial[],
  cautions: readonly string[],
  pen: SheetPen,
  { xMm, topMm, widthMm }: NotesPlace,
): { svg: string; endMm: number } {
  const parts: string[] = [];
  let y = topMm;
  const paragraph = (text: string, size: number, colour = INK): void => {
    for (const words of breakLines(text, size, widthMm)) {
      y += size * 1.3;
      parts.push(pen.text(xMm, y, words, size, { colour }));
    }
  };
  const heading = (text: string): void => {
    y += 7;
    parts.push(pen.text(xMm, y, text, 3.2, { bold: true }));
    y += 1;
  };
  heading('Plies, from the underside up');
  for (const { place, name } of shown(materials, of)) {
    parts.push(
      `<rect x="${page(xMm)}" y="${page(y + 1)}" width="${page(9)}" height="${page(4.4)}" fill="url(#ply-${place})" stroke="${INK}" stroke-width="0.8"/>`,
      pen.text(xMm + 11.5, y + 4.2, `${PLACE_WORDS[place]}: ${name}`, 2.8),
    );
    y += 6.4;
  }
  if (of.rootLowerMm > 0) paragraph(`Lower layer: ${figure(shape.lowerShare * 100, 0)} % of the thickness.`, 2.6);
  heading('Stiffness along the bar');
  const columns = [0, 16, 30, 42, 58].map((x) => xMm + x);
  y += 3.6;
  const row = (cells: readonly string[], colour = INK): void => {
    cells.forEach((cell, i) => {
      parts.push(pen.text(columns[i]!, y, cell, 2.6, { colour }));
    });
    y += 4;
  };
  row(['', '\u00b0C', 'hours', 'MPa', 'span at 23 \u00b0C, MPa'], LIGHT_INK);
  for (const { place, temperatureC, hours, alongMPa, rangeMPa } of shown(materials, of)) {
    row([
      place,
      figure(temperatureC, 1),
      figure(hours, 0),
      figure(alongMPa, 0),
      rangeMPa.map((e) => figure(e, 0)).join(' to '),
    ]);
  }
  y -= 2.6;
  const sources = new Map(shown(materials, of).map(({ name, source }) => [name, source]));
  for (const [name, source] of sources) paragraph(`${name}: ${source}.`, 2.2, LIGHT_INK);
  heading('How it is drawn');
  paragraph(
    'Lengthwise section along the bearing line, front left. Rock and lift upright as the pattern gives them; the slope across is laid level, so that thickness square to the underside shows in full. Edge relief is left out.',
    2.4,
  );
  heading('To be kept in mind');
  for (const caution of cautions) {
    paragraph(caution, 2.3, LIGHT_INK);
    y += 0.8;
  }
  return { svg: parts.join('\n'), endMm: y };
}

/** In the order of the plies; the lower material only where there is a lower layer. */
function shown(materials: readonly TipMaterial[], of: TipDimensions): TipMaterial[] {
  const order = of.rootLowerMm > 0 ? (['lower', 'tip', 'bar'] as const) : (['tip', 'bar'] as const);
  return order.flatMap((place) => materials.filter((material) => material.place === place));
}
