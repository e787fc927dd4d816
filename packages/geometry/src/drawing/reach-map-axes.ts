import { FINDING_WORDS } from '../findings/index.ts';
import type { Reach, ReachNode } from '../sizing/index.ts';
import { ACCENT, INK, LIGHT_INK } from './pressure-map-paper.ts';
import { figure, mm, textAt, textWidth } from './pressure-map-text.ts';
import { type ReachFrame, type ToPage, toPage } from './reach-map-field.ts';
import { isDarkReach, reachFill, reachStepOf } from './reach-map-scale.ts';

const stroke = (data: string, width = 0.8, colour = INK): string =>
  `<path d="${data}" fill="none" stroke="${colour}" stroke-width="${width}"/>`;

/** Change in degrees below and in mm of sag to the left; the back's own slope above and its radius to the right. */
export function drawReachAxes(reach: Reach, frame: ReachFrame): string {
  const page = toPage(reach, frame);
  return [
    below(reach, frame, page),
    left(reach, frame, page),
    above(reach, frame, page),
    right(reach, frame, page),
  ].join('\n');
}

/** Round steps, so that a half axis has four or five. */
function stepsTo(end: number): number[] {
  const step = [0.5, 1, 2, 5, 10, 20].find((s) => end / s <= 5) ?? 50;
  const count = Math.floor(end / step + 1e-9);
  return Array.from({ length: 2 * count + 1 }, (_, i) => (i - count) * step);
}

const signed = (value: number): string => `${value > 0 ? '+' : ''}${figure(value, Number.isInteger(value) ? 0 : 1)}`;

function below({ slopesDeg }: Reach, { x, y, width, height }: ReachFrame, page: ToPage): string {
  const base = y + height;
  const ticks = stepsTo(slopesDeg.at(-1)!).map((value) => {
    const [tx] = page(value, 0);
    return stroke(`M${mm(tx)} ${mm(base)}v6`) + textAt(tx, base + 18, signed(value), { size: 11, anchor: 'middle' });
  });
  const title = { size: 11.5, bold: true, anchor: 'middle' } as const;
  return [
    ...ticks,
    textAt(x, base + 36, '\u2190 flatter back', { size: 11 }),
    textAt(x + width / 2, base + 36, 'change of slope, both sides, degrees', title),
    textAt(x + width, base + 36, 'steeper back \u2192', { size: 11, anchor: 'end' }),
  ].join('');
}

function left({ sagsMm }: Reach, { x, y, height }: ReachFrame, page: ToPage): string {
  const ticks = stepsTo(sagsMm.at(-1)!).map((value) => {
    const [, ty] = page(0, value);
    return stroke(`M${mm(x)} ${mm(ty)}h-6`) + textAt(x - 10, ty + 4, signed(value), { size: 11, anchor: 'end' });
  });
  const at = x - 46;
  const upright = (cy: number, text: string, style: Parameters<typeof textAt>[3]): string =>
    `<g transform="rotate(-90 ${mm(at)} ${mm(cy)})">${textAt(at, cy, text, style)}</g>`;
  return [
    ...ticks,
    upright(y + height, '\u2190 straighter', { size: 11 }),
    upright(y + height / 2, 'change of sag over the bearing length, mm', { size: 11.5, bold: true, anchor: 'middle' }),
    upright(y, 'more curved \u2192', { size: 11, anchor: 'end' }),
  ].join('');
}

function above({ origin, slopesDeg }: Reach, { x, y, width }: ReachFrame, page: ToPage): string {
  if (!Number.isFinite(origin.slopeDeg)) return '';
  const end = slopesDeg.at(-1)!;
  const parts: string[] = [];
  for (let deg = Math.ceil(origin.slopeDeg - end); deg <= origin.slopeDeg + end; deg++) {
    const [tx] = page(deg - origin.slopeDeg, 0);
    const isLong = deg % 5 === 0;
    parts.push(stroke(`M${mm(tx)} ${mm(y)}v${isLong ? -6 : -3}`, 0.6, LIGHT_INK));
    if (isLong) parts.push(textAt(tx, y - 9, `${deg}\u00b0`, { size: 10, anchor: 'middle', colour: LIGHT_INK }));
  }
  const title = 'mean slope of the back under the bearing length';
  return [...parts, textAt(x + width, y - 24, title, { size: 9.5, anchor: 'end', colour: LIGHT_INK })].join('');
}

const RADII = [500, 600, 700, 800, 900, 1000, 1200, 1400, 1700, 2000, 2500, 3000, 4000, 6000, 10_000] as const;

function right({ origin, sagsMm }: Reach, { x, y, width }: ReachFrame, page: ToPage): string {
  const { sagMm, chord } = origin;
  if (sagMm === null) return '';
  const end = sagsMm.at(-1)!;
  const parts: string[] = [];
  let lastY = Number.NEGATIVE_INFINITY;
  const edge = x + width;
  const tick = (change: number, text: string): void => {
    if (Math.abs(change) > end) return;
    const [, ty] = page(0, change);
    if (ty - lastY < 13) return;
    lastY = ty;
    parts.push(stroke(`M${mm(edge)} ${mm(ty)}h6`, 0.6, LIGHT_INK));
    parts.push(textAt(edge + 10, ty + 3.5, text, { size: 10, colour: LIGHT_INK }));
  };
  for (const radius of RADII) {
    if (radius <= chord.halfMm) continue;
    tick(radius - Math.sqrt(radius ** 2 - chord.halfMm ** 2) - sagMm, figure(radius, 0));
  }
  tick(-sagMm, 'straight');
  parts.push(textAt(edge + 10, y - 12, 'radius, mm', { size: 9.5, colour: LIGHT_INK }));
  return parts.join('');
}

export const STRIP_HEIGHT = 30;

/** The measured back with the tree set further ahead or behind: ratio in each cell, the finding above. */
export function drawReachStrip(reach: Reach, frame: ReachFrame, y: number): string {
  const { positionsMm, atPositions, setPositionMm, setPositionBandMm } = reach;
  const cell = frame.width / positionsMm.length;
  const xAt = (i: number): number => frame.x + i * cell;
  const parts = atPositions.map(({ ratio }, i) => {
    const fill = ratio === null ? 'url(#no-data)' : reachFill(reachStepOf(ratio));
    const text = ratio === null ? 'none' : figure(ratio, 1);
    const colour = ratio !== null && isDarkReach(ratio) ? '#fbf8f1' : INK;
    return (
      `<rect x="${mm(xAt(i))}" y="${mm(y)}" width="${mm(cell + 0.3)}" height="${STRIP_HEIGHT}" fill="${fill}"/>` +
      textAt(xAt(i) + cell / 2, y + STRIP_HEIGHT / 2 + 4, text, { size: 11, anchor: 'middle', colour }) +
      textAt(xAt(i) + cell / 2, y + STRIP_HEIGHT + 15, signed(positionsMm[i]!), { size: 10.5, anchor: 'middle' })
    );
  });
  parts.push(
    `<rect x="${mm(frame.x)}" y="${mm(y)}" width="${mm(frame.width)}" height="${STRIP_HEIGHT}" fill="none" stroke="${INK}" stroke-width="1"/>`,
    ...runNames(atPositions, xAt, cell, y),
    bandMark(reach, xAt, cell, y),
    textAt(frame.x, y + STRIP_HEIGHT + 33, '\u2190 forward', { size: 11 }),
    textAt(
      frame.x + frame.width / 2,
      y + STRIP_HEIGHT + 33,
      `set position against ${figure(setPositionMm, 0)} mm, on the back as measured, mm`,
      { size: 11.5, bold: true, anchor: 'middle' },
    ),
    textAt(frame.x + frame.width, y + STRIP_HEIGHT + 33, 'back \u2192', { size: 11, anchor: 'end' }),
  );
  return setPositionBandMm > 0 ? parts.join('\n') : parts.filter((part) => part !== '').join('\n');
}

/** One name over each run of cells with the same finding, as far as it has room. */
function runNames(nodes: readonly ReachNode[], xAt: (i: number) => number, cell: number, y: number): string[] {
  const wordsOf = ({ code, ratio }: ReachNode): string =>
    ratio === null ? 'no result' : ratio <= 1 ? 'no finding' : FINDING_WORDS[code!];
  const out: string[] = [];
  let from = 0;
  let row = 0;
  for (let i = 1; i <= nodes.length; i++) {
    if (i < nodes.length && wordsOf(nodes[i]!) === wordsOf(nodes[from]!)) continue;
    const text = wordsOf(nodes[from]!);
    const middle = (xAt(from) + xAt(i)) / 2;
    // Names wider than their run stand in a row above, with a line down to it.
    const fits = textWidth(text, 10.5) < cell * (i - from) - 6;
    row = fits ? 0 : row === 1 ? 2 : 1;
    const ty = y - 7 - 13 * row;
    if (row > 0) out.push(stroke(`M${mm(middle)} ${mm(y)}V${mm(ty + 3)}`, 0.6, LIGHT_INK));
    out.push(textAt(middle, ty, text, { size: 10.5, anchor: 'middle', halo: '#fbf8f1' }));
    from = i;
  }
  return out;
}

/** The room that the rules leave for setting the tree, on the strip. */
function bandMark(
  { positionsMm, setPositionBandMm }: Reach,
  xAt: (i: number) => number,
  cell: number,
  y: number,
): string {
  const step = positionsMm[1]! - positionsMm[0]!;
  const at = (mmOff: number): number => xAt(0) + cell * ((mmOff - positionsMm[0]!) / step + 0.5);
  const [from, to] = [-setPositionBandMm, setPositionBandMm].map((off) =>
    at(Math.min(positionsMm.at(-1)!, Math.max(positionsMm[0]!, off))),
  ) as [number, number];
  const middle = at(0);
  const base = y + STRIP_HEIGHT;
  return (
    stroke(`M${mm(from)} ${mm(base - 3)}v3H${mm(to)}v-3`, 1.6, ACCENT) +
    stroke(`M${mm(middle - 5)} ${mm(y + 5)}h10M${mm(middle)} ${mm(y)}v10`, 1.6, ACCENT)
  );
}
