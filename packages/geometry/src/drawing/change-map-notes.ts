import type { BackChange, BackSurface } from '../back/index.ts';
import type { ChangedBacks, ChangeMapOptions } from './change-map.ts';
import { type Column, drawCautions } from './pressure-map-notes.ts';
import { ACCENT, INK, LIGHT_INK } from './pressure-map-paper.ts';
import type { MapScale } from './pressure-map-scale.ts';
import { breakLines, figure, mm, textAt } from './pressure-map-text.ts';

/** Title, legend, both measurings, what is read from them and the cautions. */
export function drawChangeNotes(
  change: BackChange,
  { before, after }: ChangedBacks,
  scale: MapScale,
  options: ChangeMapOptions,
  column: Column,
): { svg: string; endY: number } {
  const parts: string[] = [];
  let y = 26;
  const paragraph = (text: string, size: number, colour = INK): void => {
    for (const words of breakLines(text, size, column.width)) {
      y += size * 1.28;
      parts.push(textAt(column.x, y, words, { size, colour }));
    }
  };
  const heading = (text: string): void => {
    y += 23;
    parts.push(textAt(column.x, y, text, { size: 11.5, bold: true }));
    y += 2;
  };
  for (const words of breakLines(titleOf(before, after), 22, column.width)) {
    y += 26;
    parts.push(textAt(column.x, y, words, { size: 22, bold: true }));
  }
  y += 3;
  paragraph(
    `What changed from ${before.measured.on} to ${after.measured.on}, mm straight up: + fuller, \u2212 lower.`,
    11.5,
  );
  paragraph(
    'Seen from above, front up, true to scale. Coloured only where the change exceeds the error of measuring twice.',
    9.5,
    LIGHT_INK,
  );
  const legend = drawLegend(scale, column, y);
  parts.push(legend.svg);
  y = legend.endY;
  heading('Measured');
  for (const [name, back] of [
    ['Before', before],
    ['After', after],
  ] as const)
    paragraph(`${name}: ${measuredOf(back)}`, 9.5);
  if (options.owner !== undefined) paragraph(`Owner: ${options.owner}.`, 9.5);
  paragraph(`Drawn ${options.drawnOn}.`, 9.5);
  if (change.doubts.length > 0) {
    heading('These two may not be one horse');
    for (const doubt of change.doubts) paragraph(doubt, 9.5, ACCENT);
  }
  heading('Reading');
  const { sentences } = options.align === 'landmarks' ? change.landmarks : change.bestFit;
  for (const sentence of sentences) paragraph(sentence, 9.5);
  paragraph(
    'Limit: root of the sum of squares of both stated errors, slopes counted from the bearing line (120 mm out). A sixth is called fuller or lower only where best fit and landmarks both show it.',
    8.6,
    LIGHT_INK,
  );
  const cautions = drawCautions(options.cautions, column, y);
  return { svg: [...parts, cautions.svg].join('\n'), endY: cautions.endY };
}

const titleOf = (before: BackSurface, after: BackSurface): string =>
  before.name === after.name ? `${before.name}: two measurings` : `${before.name} and ${after.name}`;

function measuredOf({ name, kind, measured }: BackSurface): string {
  return `${name} (${kind}), ${measured.on}, by ${measured.by}, to about ${measured.uncertaintyMm} mm and ${measured.uncertaintyDeg}\u00b0.`;
}

/** Colours with their figures, and what the two hatchings mean. */
function drawLegend(scale: MapScale, { x, width }: Column, from: number): { svg: string; endY: number } {
  const at = (value: number): number => x + ((value - scale.lowest) / (scale.highest - scale.lowest)) * width;
  const top = from + 16;
  const height = 15;
  const edges = [scale.lowest, ...scale.fillLevels, scale.highest];
  const parts = edges.slice(0, -1).map((edge, i) => {
    const left = at(edge);
    return `<rect x="${mm(left)}" y="${mm(top)}" width="${mm(at(edges[i + 1]!) - left + 0.3)}" height="${height}" fill="${scale.fill(i)}"/>`;
  });
  parts.push(
    `<rect x="${mm(x)}" y="${mm(top)}" width="${mm(width)}" height="${height}" fill="none" stroke="${INK}" stroke-width="0.8"/>`,
  );
  for (const value of scale.marks) {
    const end = value === scale.lowest ? 'start' : value === scale.highest ? 'end' : 'middle';
    const words = { start: ' mm lower', end: ' mm fuller', middle: '' }[end];
    const isShown = end !== 'middle' || Math.min(at(value) - x, x + width - at(value)) > 58;
    parts.push(`<path d="M${mm(at(value))} ${mm(top + height)}v4" stroke="${INK}" stroke-width="0.8"/>`);
    const text = `${value > 0 ? '+' : ''}${figure(value, Number.isInteger(value) ? 0 : 1)}${words}`;
    if (isShown) parts.push(textAt(at(value), top + height + 14, text, { size: 10, anchor: end }));
  }
  const boxY = top + height + 26;
  const box = (left: number, fill: string, text: string): string =>
    `<rect x="${mm(left)}" y="${mm(boxY)}" width="26" height="13" fill="url(#${fill})" stroke="${LIGHT_INK}" stroke-width="0.6"/>` +
    textAt(left + 32, boxY + 10, text, { size: 10 });
  parts.push(box(x, 'within-error', 'within measuring error'), box(x + width / 2, 'no-data', 'no data on one or both'));
  parts.push(
    textAt(
      x,
      boxY + 27,
      'The ends of the colours are set by hand and stay the same from sheet to sheet; beyond them the colour stays.',
      {
        size: 8,
        colour: LIGHT_INK,
      },
    ),
  );
  return { svg: parts.join('\n'), endY: boxY + 30 };
}
