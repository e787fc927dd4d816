import type { Fit } from '../findings/index.ts';
import { layerWords } from '../layers/index.ts';
import { shimWords } from '../seating/index.ts';
import type { MapQuantity } from './pressure-map-grid.ts';
import { FAINT_INK, INK, LIGHT_INK, PAPER } from './pressure-map-paper.ts';
import type { MapScale } from './pressure-map-scale.ts';
import { breakLines, figure, mm, textAt } from './pressure-map-text.ts';

/** Words that the drawing can't know by itself. */
export interface MapWords {
  /** Day the sheet was drawn, yyyy-mm-dd. */
  readonly drawnOn: string;
  /** Full text, one paragraph each. */
  readonly cautions: readonly string[];
  /** What was changed from the files, such as "length = 630". */
  readonly changes?: readonly string[];
}

export interface Column {
  readonly x: number;
  readonly width: number;
}

/** Sets blocks one under another and remembers how far down it is. */
class Sheet {
  readonly parts: string[] = [];

  constructor(
    readonly column: Column,
    public y: number,
  ) {}

  paragraph(text: string, size: number, colour = INK, leading = 1.28): void {
    for (const line of breakLines(text, size, this.column.width)) {
      this.y += size * leading;
      this.parts.push(textAt(this.column.x, this.y, line, { size, colour }));
    }
  }

  heading(text: string): void {
    this.y += 23;
    this.parts.push(textAt(this.column.x, this.y, text, { size: 11.5, bold: true }));
    this.y += 2;
  }
}

/** The text beside the drawing, without the cautions. Returns the SVG and where it ends. */
export function drawNotes(
  fit: Fit,
  quantity: MapQuantity,
  scale: MapScale,
  words: MapWords,
  column: Column,
  top: number,
): { svg: string; endY: number } {
  const sheet = new Sheet(column, top);
  drawTitle(sheet, fit, quantity);
  drawScale(sheet, fit, quantity, scale);
  drawFigures(sheet, fit);
  sheet.heading('Assumed');
  for (const line of assumptions(fit, words)) sheet.paragraph(line, 9.5);
  drawReading(sheet, fit);
  return { svg: sheet.parts.join('\n'), endY: sheet.y };
}

/** The cautions in full. */
export function drawCautions(cautions: readonly string[], column: Column, top: number): { svg: string; endY: number } {
  const sheet = new Sheet(column, top);
  sheet.heading('To be kept in mind');
  for (const caution of cautions) sheet.paragraph(caution, 8, LIGHT_INK, 1.26);
  return { svg: sheet.parts.join('\n'), endY: sheet.y };
}

function drawTitle(sheet: Sheet, { seated, result }: Fit, quantity: MapQuantity): void {
  const { x } = sheet.column;
  sheet.y += 24;
  sheet.parts.push(textAt(x, sheet.y, `${seated.tree.name} on ${seated.back.name}`, { size: 25, bold: true }));
  sheet.y += 4;
  const what =
    quantity === 'pressure'
      ? 'Pressure under load, kPa.'
      : 'Clearance under load, mm to the top of the pad: + clear, \u2212 squeeze.';
  sheet.paragraph(what, 12.5);
  sheet.paragraph(
    'Seen from above through the bars, front up, inner edges facing each other. True to scale: widths unrolled along the underside, lengths level.',
    9.5,
    LIGHT_INK,
  );
  if (result.status !== 'settled')
    sheet.paragraph(`Status: ${result.status}. The figures are of the part that is known.`, 12);
}

function drawScale(sheet: Sheet, { seated, result }: Fit, quantity: MapQuantity, scale: MapScale): void {
  const { x, width } = sheet.column;
  const at = (value: number): number => x + ((value - scale.lowest) / (scale.highest - scale.lowest)) * width;
  const top = sheet.y + 40;
  const height = 15;
  const edges = [scale.lowest, ...scale.fillLevels, scale.highest];
  for (let i = 0; i < edges.length - 1; i++) {
    const left = at(edges[i]!);
    sheet.parts.push(
      `<rect x="${mm(left)}" y="${mm(top)}" width="${mm(at(edges[i + 1]!) - left + 0.3)}" height="${height}" fill="${scale.fill(i)}"/>`,
    );
  }
  sheet.parts.push(
    `<rect x="${mm(x)}" y="${mm(top)}" width="${mm(width)}" height="${height}" fill="none" stroke="${INK}" stroke-width="0.8"/>`,
  );
  for (const value of scale.marks) {
    const anchor = value === scale.lowest ? 'start' : value === scale.highest ? 'end' : 'middle';
    const decimals = Number.isInteger(value) ? 0 : 1;
    const isEnd = anchor !== 'middle';
    const text = `${figure(value, decimals)}${isEnd ? ` ${scale.unit}` : ''}`;
    const shown = isEnd || Math.min(at(value) - x, x + width - at(value)) > 34;
    sheet.parts.push(`<path d="M${mm(at(value))} ${mm(top + height)}v4" stroke="${INK}" stroke-width="0.8"/>`);
    if (shown) sheet.parts.push(textAt(at(value), top + height + 14, text, { size: 10, anchor }));
  }
  let lastX = Number.NEGATIVE_INFINITY;
  let raised = false;
  for (const { value, name } of limitMarks(quantity, { seated, result })) {
    if (value < scale.lowest || value > scale.highest) continue;
    // Names that would run into each other stand one above the other.
    raised = at(value) - lastX < 66 && !raised;
    lastX = at(value);
    const y = raised ? top - 18 : top - 8;
    sheet.parts.push(
      `<path d="M${mm(at(value))} ${mm(y + 2.5)}V${mm(top + height)}" stroke="${INK}" stroke-width="1.1"/>`,
      textAt(at(value), y, name, { size: 8.6, anchor: at(value) - x < 30 ? 'start' : 'middle', halo: PAPER }),
    );
  }
  sheet.y = top + height + 17;
  sheet.paragraph(
    'The ends are set by hand and stay the same from sheet to sheet; beyond them the colour stays. Heavy line: just touching. Hatched: no data. White: stirrup slot. Small ring on the ruler: centre of pressure.',
    8.6,
    LIGHT_INK,
  );
}

function limitMarks(quantity: MapQuantity, { seated, result }: Pick<Fit, 'seated' | 'result'>) {
  if (quantity === 'clearance') {
    return [
      { value: 0, name: 'just touching' },
      ...(result.gap.minMm === null ? [] : [{ value: result.gap.minMm, name: 'most squeeze' }]),
    ];
  }
  const { meanKPa, peakKPa } = seated.setup.limits;
  return [
    { value: meanKPa, name: `mean limit ${figure(meanKPa, 0)}` },
    { value: peakKPa, name: `peak limit ${figure(peakKPa, 0)}` },
    { value: result.contact.p95PressureKPa, name: 'p95 here' },
  ].sort((a, b) => a.value - b.value);
}

function drawFigures(sheet: Sheet, { result }: Fit): void {
  const { contact: c, mismatch: m, pose, gap } = result;
  const percent = (share: number): string => figure(100 * share, 0);
  const rows: [string, string][] = [
    [
      'Contact',
      `${figure(c.areaCm2, 0)} cm\u00b2 (left ${figure(c.areaLeftCm2, 0)}, right ${figure(c.areaRightCm2, 0)})`,
    ],
    [
      'Pressure',
      `mean ${figure(c.meanPressureKPa, 1)}, 95th percentile ${figure(c.p95PressureKPa, 1)}, peak ${figure(c.peakPressureKPa, 1)} kPa over ${c.averagingCellCm2} cm\u00b2`,
    ],
    [
      'Load shares',
      `front ${percent(c.shareFront)}, middle ${percent(c.shareMiddle)}, rear ${percent(c.shareRear)} %; left ${percent(c.shareLeft)}, right ${percent(c.shareRight)} %`,
    ],
    [
      'Lengthwise mismatch',
      `left ${figure(m.lengthwiseLeftMm, 1)}, right ${figure(m.lengthwiseRightMm, 1)} mm (+ bridges, \u2212 rocks), laid on`,
    ],
    ['Clearance', `${figure(gap.minMm, 1)} to ${figure(gap.maxMm, 1)} mm; at the middle ${figure(gap.middleMm, 1)} mm`],
    [
      'Settled',
      `pitch ${figure(pose.pitchDeg, 1)}\u00b0 (+ front up), roll ${figure(pose.rollDeg, 1)}\u00b0 (+ right side up)`,
    ],
    [
      'No data',
      `${figure(100 * result.coverage.excludedFraction, 1)} % of the bearing surface, left out of every total`,
    ],
  ];
  sheet.y += 8;
  for (const [name, text] of rows) {
    sheet.y += 14.5;
    sheet.parts.push(
      `<line x1="${mm(sheet.column.x)}" y1="${mm(sheet.y + 4)}" x2="${mm(sheet.column.x + sheet.column.width)}" y2="${mm(sheet.y + 4)}" stroke="${FAINT_INK}" stroke-width="0.6"/>`,
      textAt(sheet.column.x, sheet.y, name, { size: 10.5, colour: LIGHT_INK }),
      textAt(sheet.column.x + 108, sheet.y, text, { size: 10.5 }),
    );
  }
}

function assumptions({ seated, result }: Fit, words: MapWords): string[] {
  const { load, layers, shims, setPositionMm, legForward } = seated.setup;
  const { measured, name } = seated.back;
  const at = load.at === 'seat' ? "the seat's low point" : `${load.at} % of bar length`;
  const stack = layers.map((l) => `${l.name} ${layerWords(l)}`).join('; ');
  const legs = legForward === 'none' ? 'standing square' : `${legForward} foreleg forward`;
  const bound = Number.isFinite(result.accuracy.boundMm) ? `, within ${figure(result.accuracy.boundMm, 2)} mm` : '';
  const pieces = shims.length === 0 ? [] : [`Shims: ${shims.map(shimWords).join('; ')}.`];
  return [
    `Back: ${name}, measured ${measured.on} by ${measured.by}, to about ${measured.uncertaintyMm} mm and ${measured.uncertaintyDeg}\u00b0; ${legs}.`,
    `Load: rider ${load.riderKg} kg and saddle ${load.saddleKg} kg, times ${load.factor}, at ${at}, ${load.heightMm} mm above the bearing line${otherLoads(load)}. Set position ${figure(setPositionMm, 0)} mm.`,
    `From the horse outward: ${stack}. Rigid bars, no friction${load.pulls.length === 0 ? ', no girth' : ''}. Path ${result.accuracy.path}${bound}.`,
    ...pieces,
    ...(words.changes === undefined || words.changes.length === 0
      ? []
      : [`Changed from the files: ${words.changes.join('; ')}.`]),
    `Drawn ${words.drawnOn}.`,
  ];
}

function otherLoads({ riseDeg, pulls }: Fit['seated']['setup']['load']): string {
  const slope = riseDeg === 0 ? '' : `, ${riseDeg > 0 ? 'uphill' : 'downhill'} ${Math.abs(riseDeg)}\u00b0`;
  return slope + pulls.map(({ name, downN }) => `; ${name} ${figure(downN, 0)} N down`).join('');
}

/** At most so many findings are set out; the rest are counted. */
const MOST_FINDINGS = 4;

function drawReading(sheet: Sheet, { result }: Fit): void {
  sheet.heading('Reading');
  const shown = result.findings.slice(0, MOST_FINDINGS);
  if (shown.length === 0) sheet.paragraph('Nothing found beyond the rules in use. That is not a verdict.', 9.5);
  for (const { sentence } of shown) sheet.paragraph(sentence, 9.5);
  const rest = result.findings.length - shown.length;
  if (rest > 0) sheet.paragraph(`And ${rest} more in the result.`, 9.5, LIGHT_INK);
}
