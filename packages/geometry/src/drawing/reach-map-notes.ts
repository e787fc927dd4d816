import { type Reach, reachSentences } from '../sizing/index.ts';
import { type Column, drawCautions } from './pressure-map-notes.ts';
import { ACCENT, INK, LIGHT_INK } from './pressure-map-paper.ts';
import { breakLines, figure, mm, textAt } from './pressure-map-text.ts';
import type { ReachMapOptions } from './reach-map.ts';
import { REACH_LEVELS, reachFill } from './reach-map-scale.ts';

/** Title, legend, what is read from the map, what it rests on, and the cautions. */
export function drawReachNotes(reach: Reach, options: ReachMapOptions, column: Column): { svg: string; endY: number } {
  const parts: string[] = [];
  let y = 26;
  const paragraph = (text: string, size: number, colour = INK): void => {
    for (const words of breakLines(text, size, column.width)) {
      y += size * 1.28;
      parts.push(textAt(column.x, y, words, { size, colour }));
    }
    y += 2;
  };
  const heading = (text: string): void => {
    y += 22;
    parts.push(textAt(column.x, y, text, { size: 11.5, bold: true }));
  };
  for (const words of breakLines(`${reach.tree}: its reach around ${reach.back}`, 22, column.width)) {
    y += 26;
    parts.push(textAt(column.x, y, words, { size: 22, bold: true }));
  }
  y += 3;
  paragraph(
    'Backs steeper or flatter, more or less curved than the measured one: which finding is furthest over its rule.',
    11.5,
  );
  y = drawLegend(parts, column, y, ringWords(reach));
  heading('Reading');
  for (const sentence of reachSentences(reach)) paragraph(sentence, 9.5);
  heading('Rests on');
  for (const line of restsOn(reach, options)) paragraph(line, 9.5);
  const cautions = drawCautions(options.cautions, column, y);
  return { svg: [...parts, cautions.svg].join('\n'), endY: cautions.endY };
}

function restsOn({ back, setPositionMm, setPositionBandMm, error }: Reach, options: ReachMapOptions): string[] {
  const { by, on, uncertaintyMm, uncertaintyDeg } = options.measured;
  return [
    `Back: ${back}, measured ${on} by ${by}, to about ${uncertaintyMm} mm and ${uncertaintyDeg}\u00b0, read as 95 of 100 repeats.`,
    `Load ${options.load}. Set position ${figure(setPositionMm, 0)} mm; the rules leave ${figure(setPositionBandMm, 0)} mm either way. Rules: ${options.rulesBy}.`,
    `Ellipse and count from ${error.draws} drawn errors, seed ${error.seed}.`,
    ...(options.changes === undefined || options.changes.length === 0
      ? []
      : [`Changed from the files: ${options.changes.join('; ')}.`]),
    `Drawn ${options.drawnOn}.`,
  ];
}

/** What the ring stands for; null where the measured back is that place itself and no ring is drawn. */
function ringWords({ nearest, least }: Reach): string | null {
  const mark = nearest ?? least;
  if (mark === null || (mark.slopeDeg === 0 && mark.sagMm === 0)) return null;
  return nearest === null ? 'where the worst finding is least' : 'nearest node without findings';
}

function drawLegend(parts: string[], { x, width }: Column, from: number, ring: string | null): number {
  const top = from + 12;
  const cell = width / (REACH_LEVELS.length + 1);
  for (let i = 0; i <= REACH_LEVELS.length; i++) {
    const left = x + i * cell;
    parts.push(`<rect x="${mm(left)}" y="${mm(top)}" width="${mm(cell + 0.3)}" height="15" fill="${reachFill(i)}"/>`);
    if (i > 0)
      parts.push(
        `<path d="M${mm(left)} ${mm(top)}v19" stroke="${INK}" stroke-width="${i === 1 ? 2.4 : 0.8}"/>`,
        textAt(left, top + 29, figure(REACH_LEVELS[i - 1]!, Number.isInteger(REACH_LEVELS[i - 1]!) ? 0 : 1), {
          size: 10,
          anchor: 'middle',
        }),
      );
  }
  parts.push(
    `<rect x="${mm(x)}" y="${mm(top)}" width="${mm(width)}" height="15" fill="none" stroke="${INK}" stroke-width="0.8"/>`,
    textAt(x, top + 43, 'no finding', { size: 9.5 }),
    textAt(x + width, top + 43, 'times its rule', { size: 9.5, anchor: 'end' }),
  );
  const markY = top + 58;
  const endY = markY + (ring === null ? 0 : 18);
  if (ring !== null)
    parts.push(
      `<circle cx="${mm(x + 10)}" cy="${mm(markY + 17)}" r="4.5" fill="none" stroke="${ACCENT}" stroke-width="1.6"/>`,
      textAt(x + 24, markY + 20.5, ring, { size: 9.5 }),
    );
  parts.push(
    `<path d="M${mm(x + 4)} ${mm(markY)}h12M${mm(x + 10)} ${mm(markY - 6)}v12" stroke="${ACCENT}" stroke-width="2"/>`,
    textAt(x + 24, markY + 3.5, 'back as measured; the ellipse holds 95 of 100 repeats', { size: 9.5 }),
    textAt(
      x,
      endY + 19,
      'Heavy line: the border of what has no finding. Steps are fixed and the same on every sheet.',
      {
        size: 8.4,
        colour: LIGHT_INK,
      },
    ),
  );
  return endY + 20;
}
