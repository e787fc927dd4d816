import { treeLengthMm } from '../bar/index.ts';
import type { Fit } from '../findings/index.ts';
import { drawBar, type MapPlace } from './pressure-map-bars.ts';
import { createMapGrid, type MapQuantity } from './pressure-map-grid.ts';
import {
  drawBearings,
  drawLandmarks,
  drawPeakAndLoad,
  drawRuler,
  drawStations,
  peakPlace,
  placesOfPeak,
  reachOf,
} from './pressure-map-marks.ts';
import { type Column, drawCautions, drawNotes, type MapWords } from './pressure-map-notes.ts';
import { FONT, INK, LIGHT_INK, PAPER } from './pressure-map-paper.ts';
import { createMapScale, MAP_SCALES_DEFAULT, type MapScales } from './pressure-map-scale.ts';
import { escapeXml, mm } from './pressure-map-text.ts';

export interface PressureMapOptions extends MapWords {
  readonly of?: MapQuantity;
  /** Ends of the colours; never taken from the data. */
  readonly scales?: MapScales;
}

/** Page units to a millimetre of paper: the tree is printed at a quarter of its size. */
const REDUCTION = 4;
const MARGIN = 40;
/** Room beside the bars: for names, and for names and shares. */
const LEFT_ROOM = 72;
const RIGHT_ROOM = 176;
const HEAD_ROOM = 66;
const FOOT_ROOM = 58;
const NOTES_WIDTH = 430;
/** Least page: A4 across. */
const LEAST_WIDTH = 297 * REDUCTION;
const LEAST_HEIGHT = 210 * REDUCTION;

/**
 * A sheet with both undersides laid flat, as SVG text: coloured by clearance or pressure on a fixed scale, contour lines
 * with figures, ruler, landmarks, peak, shares, assumptions and cautions. One user unit is a millimetre of the tree.
 */
export function drawPressureMap(fit: Fit, options: PressureMapOptions): string {
  const quantity = options.of ?? 'clearance';
  const scale = createMapScale(quantity, options.scales ?? MAP_SCALES_DEFAULT);
  const sides = ['left', 'right'] as const;
  const grids = sides.map((side) => createMapGrid(fit.seated, side, quantity));
  const clearance =
    quantity === 'clearance' ? grids : sides.map((side) => createMapGrid(fit.seated, side, 'clearance'));
  const reach = reachOf(grids);
  const place: MapPlace = { midX: MARGIN + LEFT_ROOM + reach, topY: MARGIN + HEAD_ROOM };
  const notesX = place.midX + reach + RIGHT_ROOM;
  const width = Math.max(LEAST_WIDTH, notesX + NOTES_WIDTH + MARGIN);
  const column = { x: notesX, width: width - MARGIN - notesX };
  const notes = drawNotes(fit, quantity, scale, options, column, MARGIN - 14);
  const underDrawing = place.topY + treeLengthMm(fit.seated.tree) + FOOT_ROOM;
  const cautions = placeCautions(
    options.cautions,
    underDrawing,
    notes.endY,
    column,
    place.midX + reach + RIGHT_ROOM - 60,
  );
  const bottom = Math.max(underDrawing, notes.endY, cautions.endY) + MARGIN - 10;
  const peak = peakPlace(fit, grids, place);
  const taken = peak === null ? [] : placesOfPeak(peak, place, reach);
  const body = [
    ...grids.map((values, i) => drawBar(fit.seated, { values, clearance: clearance[i]! }, scale, place, taken)),
    drawStations(fit, grids, place, reach),
    drawLandmarks(fit, place, reach),
    drawRuler(fit, place),
    drawPeakAndLoad(fit, peak, place, reach),
    drawBearings(fit, place, reach),
    notes.svg,
    cautions.svg,
  ].join('\n');
  return page(body, width, Math.max(LEAST_HEIGHT, bottom), `${fit.seated.tree.name} on ${fit.seated.back.name}`);
}

/** Cautions go under the drawing or under the notes: where the sheet stays lower. */
function placeCautions(
  words: readonly string[],
  underDrawing: number,
  underNotes: number,
  column: Column,
  rightX: number,
) {
  const below = drawCautions(words, { x: MARGIN, width: rightX - MARGIN }, underDrawing - 14);
  const beside = drawCautions(words, column, underNotes);
  return below.endY <= beside.endY ? below : beside;
}

function page(body: string, width: number, height: number, title: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(width / REDUCTION)}mm" height="${mm(height / REDUCTION)}mm" viewBox="0 0 ${mm(width)} ${mm(height)}" font-family="${FONT}" fill="${INK}">
<title>${escapeXml(title)}</title>
<defs><pattern id="no-data" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="7" stroke="${LIGHT_INK}" stroke-width="1.6"/></pattern></defs>
<rect width="${mm(width)}" height="${mm(height)}" fill="${PAPER}"/>
${body}
</svg>
`;
}
