import { treeLengthMm } from '../bar/index.ts';
import type { Fit } from '../findings/index.ts';
import type { Side } from '../spatial/index.ts';
import { acrossAt, type MapPlace, toPage } from './pressure-map-bars.ts';
import { type MapGrid, stationAtX, stationX } from './pressure-map-grid.ts';
import type { LabelPlace } from './pressure-map-labels.ts';
import { ACCENT, INK, LIGHT_INK, PAPER } from './pressure-map-paper.ts';
import { figure, mm, textAt } from './pressure-map-text.ts';

const SMALL = 9.5;
/** Where the shares of the thirds stand, outward of the bars: beyond the landmarks' names. */
const SHARES_AT = 66;
const SIDES: readonly Side[] = ['left', 'right'];

const line = (x1: number, y1: number, x2: number, y2: number, colour: string, width: number, dash = ''): string =>
  `<line x1="${mm(x1)}" y1="${mm(y1)}" x2="${mm(x2)}" y2="${mm(y2)}" stroke="${colour}" stroke-width="${width}"${dash === '' ? '' : ` stroke-dasharray="${dash}"`}/>`;

/** How far the drawing reaches outward, page units. */
export function reachOf(grids: readonly MapGrid[]): number {
  return Math.max(...grids.flatMap(({ acrossMm }) => [...acrossMm]));
}

/** The one ruler down the midline: mm behind the blade edge, on the bars' bearing line. */
export function drawRuler({ seated }: Fit, { midX, topY }: MapPlace): string {
  const length = treeLengthMm(seated.tree);
  const from = Math.ceil(stationX(seated, 0) / 10) * 10;
  const to = Math.floor(stationX(seated, length) / 10) * 10;
  const parts = [line(midX, topY, midX, topY + length, INK, 0.9)];
  for (let x = from; x <= to; x += 10) {
    const y = topY + stationAtX(seated, x);
    const half = x % 100 === 0 ? 9 : x % 50 === 0 ? 6 : 3;
    parts.push(line(midX - half, y, midX + half, y, INK, x % 50 === 0 ? 0.9 : 0.5));
    if (x % 100 === 0) parts.push(textAt(midX + 13, y + 3.4, figure(x, 0), { size: 10.5 }));
  }
  parts.push(textAt(midX, topY - 12, 'mm behind the blade edge', { size: 8.5, anchor: 'middle', colour: LIGHT_INK }));
  return parts.join('\n');
}

/** Blade edges and last rib across the bars, named beside them. */
export function drawLandmarks({ seated }: Fit, place: MapPlace, reach: number): string {
  const { bladeEdgeLeft, bladeEdgeRight, lastRib, proposed } = seated.back.landmarks;
  const length = treeLengthMm(seated.tree);
  const mark = (side: Side, xMm: number, name: string): string => {
    const along = stationAtX(seated, xMm);
    if (along < -20 || along > length + 20) return '';
    const [x1, y] = toPage(place, side, 40, along);
    const [x2] = toPage(place, side, reach + 8, along);
    const [tx] = toPage(place, side, reach + 11, along);
    const style = { size: SMALL, anchor: side === 'left' ? 'end' : 'start', colour: ACCENT } as const;
    return line(x1, y, x2, y, ACCENT, 0.9, '7 3 1.5 3') + textAt(tx, y + 3, name, style);
  };
  const name = (text: string, landmark: (typeof proposed)[number]): string =>
    proposed.includes(landmark) ? `${text} (proposed)` : text;
  return [
    mark('left', bladeEdgeLeft[0], name('blade edge', 'bladeEdgeLeft')),
    mark('right', bladeEdgeRight[0], name('blade edge', 'bladeEdgeRight')),
    ...SIDES.map((side) => mark(side, lastRib[0], name('last rib', 'lastRib'))),
  ].join('\n');
}

/** Station names at the outer edge of the left bar, and thirds with their share of the load beside the right one. */
export function drawStations(
  { seated, result }: Fit,
  grids: readonly MapGrid[],
  place: MapPlace,
  reach: number,
): string {
  const length = treeLengthMm(seated.tree);
  const left = grids.find(({ side }) => side === 'left')!;
  const names = seated.tree.left.shape.stations.map(({ name, atMm }) => {
    const [edge, y] = toPage(place, 'left', acrossAt(left, atMm / length, 1) + 2, atMm);
    const end = edge - 9;
    return line(edge, y, end, y, INK, 0.8) + textAt(end - 3, y + 3, name, { size: SMALL, anchor: 'end' });
  });
  const { shareFront, shareMiddle, shareRear } = result.contact;
  const x = place.midX + reach + SHARES_AT;
  const thirds = [shareFront, shareMiddle, shareRear].map((share, i) => {
    const y1 = place.topY + (i * length) / 3 + 4;
    const y2 = place.topY + ((i + 1) * length) / 3 - 4;
    const text = `load, ${['front', 'middle', 'rear'][i]} third`;
    const middle = (y1 + y2) / 2;
    return [
      `<path d="M${mm(x)} ${mm(y1)}h5V${mm(y2)}h-5" fill="none" stroke="${LIGHT_INK}" stroke-width="0.8"/>`,
      textAt(x + 10, middle - 2, `${figure(100 * share, 0)} %`, { size: 14, bold: true }),
      textAt(x + 10, middle + 10, text, { size: SMALL, colour: LIGHT_INK }),
    ].join('');
  });
  return [...names, ...thirds].join('\n');
}

/** Where the peak lies on the page, or null without contact. */
export function peakPlace({ result, seated }: Fit, grids: readonly MapGrid[], place: MapPlace): LabelPlace | null {
  const { peakAt, averagingCellCm2 } = result.contact;
  if (peakAt === null) return null;
  const grid = grids.find(({ side }) => side === peakAt.side)!;
  const across = acrossAt(grid, peakAt.bMm / treeLengthMm(seated.tree), peakAt.t);
  const [x, y] = toPage(place, peakAt.side, across, peakAt.bMm);
  return { x, y, radius: Math.sqrt((averagingCellCm2 * 100) / Math.PI) };
}

/** Which way the peak's name stands: towards the bar's own middle. +1 rightward on the page. */
function nameDirection(x: number, { midX }: MapPlace, reach: number): 1 | -1 {
  const isOuter = Math.abs(x - midX) > reach * 0.55;
  return x < midX === isOuter ? 1 : -1;
}

/** Room that the peak's disc and name take up. */
export function placesOfPeak({ x, y, radius }: LabelPlace, place: MapPlace, reach: number): LabelPlace[] {
  const step = nameDirection(x, place, reach);
  const name = [16, 34, 52].map((at) => ({ x: x + step * (radius + at), y, radius: 6 }));
  return [{ x, y, radius: radius + 4 }, ...name];
}

/** The averaging disc of the peak, to scale, named; the load's point and the centre of pressure on the midline. */
export function drawPeakAndLoad(fit: Fit, peak: LabelPlace | null, place: MapPlace, reach: number): string {
  const { result, seated } = fit;
  const parts: string[] = [];
  if (peak !== null) {
    const { x, y, radius } = peak;
    const inward = nameDirection(x, place, reach);
    const text = `peak ${figure(result.contact.peakPressureKPa, 1)} kPa`;
    parts.push(
      `<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" fill="none" stroke="${PAPER}" stroke-width="3"/>`,
      `<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" fill="none" stroke="${ACCENT}" stroke-width="1.3"/>`,
      line(x - 3, y, x + 3, y, ACCENT, 1.2) + line(x, y - 3, x, y + 3, ACCENT, 1.2),
      textAt(x + inward * (radius + 4), y + 3.2, text, {
        size: SMALL,
        bold: true,
        anchor: inward > 0 ? 'start' : 'end',
        colour: ACCENT,
        halo: PAPER,
      }),
    );
  }
  const { at } = seated.setup.load;
  const loadB = at === 'seat' ? seated.tree.parts.seatLowMm : (at / 100) * treeLengthMm(seated.tree);
  const y = place.topY + loadB;
  const x = place.midX - 5;
  parts.push(
    `<path d="M${mm(x)} ${mm(y)}l-9 -4.5v9z" fill="${INK}"/>`,
    textAt(x - 12, y + 3.2, 'load', { size: SMALL, anchor: 'end' }),
  );
  const { centreOfPressureXMm, centreOfPressureYMm } = result.contact;
  if (centreOfPressureXMm !== null && centreOfPressureYMm !== null) {
    const cy = place.topY + stationAtX(seated, centreOfPressureXMm);
    const cx = place.midX + centreOfPressureYMm;
    parts.push(`<circle cx="${mm(cx)}" cy="${mm(cy)}" r="3.6" fill="${PAPER}" stroke="${INK}" stroke-width="1.4"/>`);
  }
  return parts.join('\n');
}

/** Left and right, front, and a length to measure the print by. */
export function drawBearings({ seated }: Fit, place: MapPlace, reach: number): string {
  const length = treeLengthMm(seated.tree);
  const y = place.topY - 34;
  const offset = reach * 0.58;
  const barY = place.topY + length + 34;
  const barX = place.midX - reach;
  return [
    textAt(place.midX - offset, y, "horse's left (near side)", { size: 12, bold: true, anchor: 'middle' }),
    textAt(place.midX + offset, y, "horse's right (off side)", { size: 12, bold: true, anchor: 'middle' }),
    `<path d="M${mm(place.midX)} ${mm(y - 16)}l-5 11h10z" fill="${INK}"/>`,
    textAt(place.midX, y + 6, 'front', { size: 10.5, anchor: 'middle' }),
    line(barX, barY, barX + 100, barY, INK, 1),
    line(barX, barY - 4, barX, barY + 4, INK, 1),
    line(barX + 100, barY - 4, barX + 100, barY + 4, INK, 1),
    textAt(barX + 106, barY + 3.3, '100 mm of the tree: measure it on the print', { size: SMALL }),
  ].join('\n');
}
