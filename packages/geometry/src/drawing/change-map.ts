import type { BackChange, BackSurface, RegionChange } from '../back/index.ts';
import { CHANGE_PATTERNS, type ChangePlace, createChangeGrid, drawChangeField } from './change-map-field.ts';
import { drawChangeNotes } from './change-map-notes.ts';
import { CHANGE_SCALE_DEFAULT, type ChangeScale, createChangeScale } from './change-map-scale.ts';
import { ACCENT, FONT, INK, LIGHT_INK, PAPER } from './pressure-map-paper.ts';
import { escapeXml, figure, mm, textAt } from './pressure-map-text.ts';

export interface ChangeMapOptions {
  /** Day the sheet was drawn, yyyy-mm-dd. */
  readonly drawnOn: string;
  /** Full text, one paragraph each. */
  readonly cautions: readonly string[];
  /** How the two are laid together in the drawing. */
  readonly align: 'landmarks' | 'best fit';
  /** Ends of the colours; never taken from the data. */
  readonly scale?: ChangeScale;
  /** Only where the owner wants to be named. */
  readonly owner?: string;
}

/** The two backs that a change lies between. */
export interface ChangedBacks {
  readonly before: BackSurface;
  readonly after: BackSurface;
}

/** Page units to a millimetre of paper: the back is printed at a quarter of its size. */
const REDUCTION = 4;
const MARGIN = 40;
/** Room beside the map for the thirds and their figures. */
const SIDE_ROOM = 158;
const HALF_WIDTH = 200;
const HEAD_ROOM = 66;
const NOTES_WIDTH = 410;
const LEAST_HEIGHT = 210 * REDUCTION;

/**
 * A sheet with what changed between two backs of one horse, seen from above, front up, as SVG text: coloured where the
 * change exceeds the error of measuring twice, hatched elsewhere. One user unit is a millimetre of the horse.
 */
export function drawChangeMap(change: BackChange, backs: ChangedBacks, options: ChangeMapOptions): string {
  const comparison = options.align === 'landmarks' ? change.landmarks : change.bestFit;
  const scale = createChangeScale(options.scale ?? CHANGE_SCALE_DEFAULT);
  const place: ChangePlace = { midX: MARGIN + SIDE_ROOM + HALF_WIDTH, topY: MARGIN + HEAD_ROOM };
  const notesX = place.midX + HALF_WIDTH + SIDE_ROOM + 14;
  const notes = drawChangeNotes(change, backs, scale, options, { x: notesX, width: NOTES_WIDTH });
  const width = notesX + NOTES_WIDTH + MARGIN;
  const underMap = place.topY + comparison.endXMm + 58;
  const height = Math.max(LEAST_HEIGHT, underMap + MARGIN, notes.endY + MARGIN);
  const body = [
    drawChangeField(createChangeGrid(comparison), scale, place),
    drawRuler(comparison.endXMm, place),
    drawThirds(change.regions, options.align, place),
    drawBearings(comparison.endXMm, place),
    notes.svg,
  ].join('\n');
  const title = `${backs.before.name}: change from ${backs.before.measured.on} to ${backs.after.measured.on}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(width / REDUCTION)}mm" height="${mm(height / REDUCTION)}mm" viewBox="0 0 ${mm(width)} ${mm(height)}" font-family="${FONT}" fill="${INK}">
<title>${escapeXml(title)}</title>
<defs>${CHANGE_PATTERNS}</defs>
<rect width="${mm(width)}" height="${mm(height)}" fill="${PAPER}"/>
${body}
</svg>
`;
}

const line = (x1: number, y1: number, x2: number, y2: number, colour: string, width: number, dash = ''): string =>
  `<line x1="${mm(x1)}" y1="${mm(y1)}" x2="${mm(x2)}" y2="${mm(y2)}" stroke="${colour}" stroke-width="${width}"${dash === '' ? '' : ` stroke-dasharray="${dash}"`}/>`;

/** Millimetres behind the blade edge down the left border; the midline dashed. */
function drawRuler(endXMm: number, { midX, topY }: ChangePlace): string {
  const left = midX - HALF_WIDTH;
  const parts = [line(midX, topY, midX, topY + endXMm, INK, 0.8, '9 3 2 3')];
  for (let x = 0; x <= endXMm; x += 10) {
    const long = x % 100 === 0 ? 10 : x % 50 === 0 ? 6 : 3;
    parts.push(line(left - long, topY + x, left, topY + x, INK, x % 50 === 0 ? 0.9 : 0.5));
    if (x % 100 === 0)
      parts.push(textAt(left - 13, topY + x + 3.4, figure(x, 0), { size: 10.5, anchor: 'end', halo: PAPER }));
  }
  const style = { size: 9.5, colour: ACCENT } as const;
  return [
    ...parts,
    textAt(left - 4, topY - 6, 'mm behind the blade edge', { size: 8.5, anchor: 'end', colour: LIGHT_INK }),
    line(midX - HALF_WIDTH - 2, topY, midX + HALF_WIDTH + 8, topY, ACCENT, 0.9, '7 3 1.5 3'),
    textAt(midX + HALF_WIDTH + 11, topY + 3, 'blade edge', style),
    line(midX - HALF_WIDTH - 2, topY + endXMm, midX + HALF_WIDTH + 8, topY + endXMm, ACCENT, 0.9, '7 3 1.5 3'),
    textAt(midX + HALF_WIDTH + 11, topY + endXMm + 3, 'last rib', style),
  ].join('\n');
}

/** The mean of each sixth beside it, with what can be shown there. */
function drawThirds(regions: readonly RegionChange[], align: ChangeMapOptions['align'], place: ChangePlace): string {
  return regions
    .map((region) => {
      const { side, third, fromXMm, toXMm, limitMm, reading } = region;
      const mean = align === 'landmarks' ? region.landmarksMm : region.bestFitMm;
      const out = side === 'left' ? -1 : 1;
      const x = place.midX + out * (HALF_WIDTH + (side === 'left' ? 46 : 14));
      const [y1, y2] = [place.topY + fromXMm + 8, place.topY + toXMm - 8];
      const middle = (y1 + y2) / 2;
      const anchor = side === 'left' ? 'end' : 'start';
      const tx = x + out * 8;
      return [
        `<path d="M${mm(x - out * 4)} ${mm(y1)}h${out * 4}V${mm(y2)}h${-out * 4}" fill="none" stroke="${LIGHT_INK}" stroke-width="0.8"/>`,
        textAt(tx, middle - 10, `${signed(mean)} mm`, { size: 14, bold: true, anchor }),
        textAt(tx, middle + 2, `mean, ${third} third`, { size: 9.5, anchor, colour: LIGHT_INK }),
        textAt(tx, middle + 13, `limit ${figure(limitMm, 1)} mm`, { size: 9.5, anchor, colour: LIGHT_INK }),
        ...READING_LINES[reading].map((text, i) => textAt(tx, middle + 26 + 11 * i, text, { size: 9.5, anchor })),
      ].join('');
    })
    .join('\n');
}

const READING_LINES: Readonly<Record<RegionChange['reading'], readonly string[]>> = {
  fuller: ['fuller'],
  lower: ['lower'],
  'changed in part': ['changed in part'],
  'within measuring error': ['within measuring', 'error'],
  'depends on how they are laid together': ['depends on how they', 'are laid together'],
  'no data': ['no data'],
};

function drawBearings(endXMm: number, { midX, topY }: ChangePlace): string {
  const y = topY - 34;
  const barY = topY + endXMm + 34;
  const barX = midX - HALF_WIDTH;
  const sides = [
    [-100, "horse's left (near side)"],
    [100, "horse's right (off side)"],
  ] as const;
  return [
    ...sides.map(([at, text]) => textAt(midX + at, y, text, { size: 12, bold: true, anchor: 'middle' })),
    `<path d="M${mm(midX)} ${mm(y - 16)}l-5 11h10z" fill="${INK}"/>`,
    textAt(midX, y + 6, 'front', { size: 10.5, anchor: 'middle' }),
    line(barX, barY, barX + 100, barY, INK, 1),
    line(barX, barY - 4, barX, barY + 4, INK, 1),
    line(barX + 100, barY - 4, barX + 100, barY + 4, INK, 1),
    textAt(barX + 106, barY + 3.3, '100 mm of the back, level: measure it on the print', { size: 9.5 }),
  ].join('\n');
}

/** With a sign even where it is a plus. */
const signed = (value: number): string => `${value > 0 ? '+' : ''}${figure(value, 1)}`;
