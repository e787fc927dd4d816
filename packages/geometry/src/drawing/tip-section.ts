import type { Tree, Underside } from '../bar/index.ts';
import { ACCENT, FONT, INK, LIGHT_INK } from './pressure-map-paper.ts';
import { escapeXml, figure, textWidth } from './pressure-map-text.ts';
import { arrow, page, type SheetPen, sheetPen } from './sheet-pen.ts';
import { drawTipNotes, TIP_PATTERNS, type TipMaterial } from './tip-section-notes.ts';
import {
  aboveUnderside,
  type SectionPoint,
  sectionEndMm,
  sectionPlies,
  steps,
  type TipDimensions,
  tipDimensions,
  unflared,
} from './tip-section-shape.ts';

export interface TipSectionOptions {
  readonly side: 'left' | 'right';
  /** Version of the pattern or of the program, as the title block says it. */
  readonly version: string;
  /** Day of the drawing, yyyy-mm-dd. */
  readonly drawnOn: string;
  /** Of bar, lower layer and tip at the warmth and time the drawing is for. */
  readonly materials: readonly TipMaterial[];
  /** Full text, one paragraph each. */
  readonly cautions: readonly string[];
}

/** Least page: A4 across. mm */
const PAGE = { widthMm: 297, heightMm: 210 };
const MARGIN_MM = 14;
const LEFT_ROOM_MM = 34;
const NOTES_MM = 98;
const SECTION_TOP_MM = 66;
const FOOT_MM = 6;
const HEAD_MM = 1.8;

/** Where the section lies on the page. */
type ToPage = (point: SectionPoint) => SectionPoint;

/**
 * The designer's section of a front tip as SVG text, in true size: plies hatched by material, tip length, thickness at root and
 * edge, lift over the unflared surface, the fork's foot, a table of stiffnesses and a bar of 100 mm.
 * @throws InputError 'out-of-range' for a bar without a front tip
 */
export function drawTipSection(tree: Tree, options: TipSectionOptions): string {
  const bar = tree[options.side];
  const of = tipDimensions(tree, options.side);
  const endMm = sectionEndMm(bar, of);
  const plies = sectionPlies(bar, endMm);
  const heights = plies.flatMap(({ outline }) => outline.map(([, z]) => z));
  const topZ = Math.max(...heights);
  const leftMm = MARGIN_MM + LEFT_ROOM_MM;
  const toPage: ToPage = ([b, z]) => [leftMm + b, SECTION_TOP_MM + topZ - z];
  const lowMm = SECTION_TOP_MM + topZ - Math.min(unflared(bar, of.flareZoneMm)[1], ...heights);
  const notesX = Math.max(leftMm + endMm + 18, PAGE.widthMm - MARGIN_MM - NOTES_MM);
  const widthMm = notesX + NOTES_MM + MARGIN_MM;
  const draft = sheetPen(widthMm, PAGE.heightMm);
  const place = { xMm: notesX, topMm: 26, widthMm: NOTES_MM };
  const notes = drawTipNotes(tree, of, options.materials, options.cautions, draft, place);
  const heightMm = Math.max(PAGE.heightMm, notes.endMm + MARGIN_MM, lowMm + 62 + MARGIN_MM);
  const pen = sheetPen(widthMm, heightMm);
  const title = `${tree.name}: front tip, ${options.side} bar`;
  const body = [
    drawTitle(title, options, pen),
    ...plies.map(({ material, outline }) => polygon(outline.map(toPage), `ply-${material}`, `url(#ply-${material})`)),
    drawFoot(bar, of, endMm, pen, toPage),
    drawUnflared(bar, of, pen, toPage),
    drawLengths(bar, of, lowMm, pen, toPage),
    drawThickness(bar, of, pen, toPage),
    drawCheckBar(leftMm, lowMm + 54, pen),
    notes.svg,
  ];
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${widthMm}mm" height="${heightMm}mm" viewBox="0 0 ${page(widthMm)} ${page(heightMm)}" font-family="${FONT}" fill="${INK}">
<title>${escapeXml(title)}</title>
<style>@page { size: ${widthMm}mm ${heightMm}mm; margin: 0 }</style>
<defs>${TIP_PATTERNS}</defs>
<rect width="${page(widthMm)}" height="${page(heightMm)}" fill="#fff"/>
${body.join('\n')}
</svg>
`;
}

function polygon(points: readonly SectionPoint[], part: string, fill: string): string {
  const at = points.map(([x, y]) => `${page(x)},${page(y)}`).join(' ');
  return `<polygon data-part="${part}" points="${at}" fill="${fill}" stroke="${INK}" stroke-width="${page(0.25)}" stroke-linejoin="round"/>`;
}

function drawTitle(title: string, { version, drawnOn }: TipSectionOptions, pen: SheetPen): string {
  const rule = MARGIN_MM + 16;
  return [
    pen.text(MARGIN_MM, MARGIN_MM + 6, title, 6, { bold: true }),
    pen.text(
      MARGIN_MM,
      MARGIN_MM + 12,
      `${version}. Drawn ${drawnOn}. Lengthwise section, true size: millimetres.`,
      3,
      { colour: LIGHT_INK },
    ),
    pen.line(MARGIN_MM, rule, pen.widthMm - MARGIN_MM - NOTES_MM - 6, rule, LIGHT_INK, 0.15),
  ].join('\n');
}

/** The rigid fork on the bar's top. */
function drawFoot(bar: Underside, of: TipDimensions, endMm: number, pen: SheetPen, toPage: ToPage): string {
  const [from, to] = [of.forkFootFromMm, Math.min(of.forkFootToMm, endMm)];
  const thick = (b: number): number => (b < of.tipLengthMm ? of.rootThicknessMm : of.barThicknessMm);
  const top = (b: number, more: number): SectionPoint => toPage(aboveUnderside(bar, b, thick(b) + more));
  const under = steps(from, to).map((b) => top(b, 0));
  const over = steps(from, to).map((b) => top(b, FOOT_MM));
  const [x, y] = top(to, FOOT_MM);
  return [
    polygon([...under, ...over.reverse()], 'fork-foot', 'url(#ply-foot)'),
    pen.text(x, y - 2, 'fork', 2.8, { anchor: 'end' }),
  ].join('\n');
}

/** The underside as it would go on without flare, and the lift over it at the tip edge. */
function drawUnflared(bar: Underside, of: TipDimensions, pen: SheetPen, toPage: ToPage): string {
  const line = steps(0, of.flareZoneMm)
    .map((b) => toPage(unflared(bar, b)))
    .map(([x, y]) => `${page(x)},${page(y)}`)
    .join(' ');
  const [edgeX, edgeY] = toPage(aboveUnderside(bar, 0, 0));
  const [, lowY] = toPage(unflared(bar, 0));
  const x = edgeX - 16;
  return [
    `<polyline points="${line}" fill="none" stroke="${ACCENT}" stroke-width="${page(0.25)}" stroke-dasharray="7 4"/>`,
    pen.line(x - 2, edgeY, edgeX - 1, edgeY, LIGHT_INK, 0.15),
    pen.line(x - 2, lowY, edgeX - 1, lowY, LIGHT_INK, 0.15),
    dimension('lift', [x, lowY], [x, edgeY], pen),
    pen.text(x - 2, (edgeY + lowY) / 2 - 0.6, 'lift', 2.8, { anchor: 'end' }),
    pen.text(x - 2, (edgeY + lowY) / 2 + 3, figure(of.liftMm, 1), 2.8, { anchor: 'end', bold: true }),
    pen.text(edgeX + 2, lowY + 11, 'unflared surface continued', 2.5, { colour: ACCENT }),
  ].join('\n');
}

/** Tip, flare zone and foot under the section: level, from place to place of the underside. */
function drawLengths(bar: Underside, of: TipDimensions, lowMm: number, pen: SheetPen, toPage: ToPage): string {
  const spans = [
    { name: 'tip-length', words: `tip length ${figure(of.tipLengthMm, 1)}`, from: 0, to: of.tipLengthMm },
    { name: 'flare-zone', words: `flare zone ${figure(of.flareZoneMm, 1)}`, from: 0, to: of.flareZoneMm },
    {
      name: 'fork-foot',
      words: `fork's foot ${figure(of.forkFootFromMm, 1)} to ${figure(of.forkFootToMm, 1)}`,
      from: of.forkFootFromMm,
      to: of.forkFootToMm,
    },
  ].filter(({ from, to }) => to > from);
  return spans
    .map(({ name, words, from, to }, i) => {
      const y = lowMm + 12 + 9 * i;
      const ends = [from, to].map((b): SectionPoint => toPage(b === 0 ? unflared(bar, 0) : aboveUnderside(bar, b, 0)));
      const [a, b] = ends as [SectionPoint, SectionPoint];
      const room = textWidth(words, 2.8) < b[0] - a[0] - 2;
      return [
        ...ends.map((at, k) =>
          pen.line(at[0], at[1] + (k === 0 && from === 0 ? 3 : 1), at[0], y + 1.5, LIGHT_INK, 0.15),
        ),
        dimension(name, [a[0], y], [b[0], y], pen),
        room
          ? pen.text((a[0] + b[0]) / 2, y - 1.2, words, 2.8, { anchor: 'middle' })
          : pen.text(b[0] + 2.5, y + 1, words, 2.8),
      ].join('\n');
    })
    .join('\n');
}

/** Square to the underside at the tip's edge, at its root and of the bar behind it. */
function drawThickness(bar: Underside, of: TipDimensions, pen: SheetPen, toPage: ToPage): string {
  const square = (b: number, mm: number, aside: number): readonly [SectionPoint, SectionPoint] => {
    const [under, over] = [toPage(aboveUnderside(bar, b, 0)), toPage(aboveUnderside(bar, b, mm))];
    const along = [(over[1] - under[1]) / mm, -(over[0] - under[0]) / mm] as const;
    const move = ([x, y]: SectionPoint): SectionPoint => [x + aside * along[0], y + aside * along[1]];
    return [move(under), move(over)];
  };
  const edge = square(0, of.edgeThicknessMm, 5);
  const [under, over] = square(0, of.edgeThicknessMm, 0.8);
  const root = square(of.tipLengthMm, of.rootThicknessMm, 0);
  const barB = of.tipLengthMm + 12;
  const behind = square(barB, of.barThicknessMm, 0);
  const label = (at: SectionPoint, words: string, mm: number, lower: number): string => {
    const of = lower > 0 ? `, lower layer ${figure(lower, 1)}` : '';
    return pen.text(at[0], at[1], `${words} ${figure(mm, 1)}${of}`, 2.8, { anchor: 'end' });
  };
  const rootLabel: SectionPoint = [root[1][0] - 14, SECTION_TOP_MM - 3];
  return [
    pen.line(...under, ...edge[0], LIGHT_INK, 0.15),
    pen.line(...over, ...edge[1], LIGHT_INK, 0.15),
    dimension('edge-thickness', edge[0], edge[1], pen),
    label([edge[1][0] + 16, edge[1][1] - 8], 'edge', of.edgeThicknessMm, of.edgeLowerMm),
    dimension('root-thickness', root[0], root[1], pen, true),
    pen.line(rootLabel[0] + 1, rootLabel[1] + 0.5, ...root[1], LIGHT_INK, 0.15),
    label(rootLabel, 'root', of.rootThicknessMm, of.rootLowerMm),
    dimension('bar-thickness', behind[0], behind[1], pen, true),
    label([behind[0][0] + 8, behind[0][1] + 5.5], 'bar', of.barThicknessMm, 0),
  ].join('\n');
}

/** A dimension line with an arrow at both ends: from within where there is room, from outside where there is not. */
function dimension(name: string, from: SectionPoint, to: SectionPoint, pen: SheetPen, onHatching = false): string {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const tail = length > 3.5 * HEAD_MM ? length / 2 : -3 * HEAD_MM;
  const end = ([x, y]: SectionPoint, way: 1 | -1): string =>
    arrow(pen, x + way * tail * ux, y + way * tail * uy, x, y, INK, HEAD_MM);
  const halo = onHatching ? pen.line(...from, ...to, '#fff', 1) : '';
  return `<g data-dimension="${name}">${halo}${end(from, 1)}${end(to, -1)}</g>`;
}

function drawCheckBar(xMm: number, yMm: number, pen: SheetPen): string {
  const ticks = Array.from({ length: 11 }, (_, i) => {
    const x = xMm + 10 * i;
    return pen.line(x, yMm - (i % 5 === 0 ? 3 : 1.6), x, yMm, INK, 0.2);
  });
  return [
    `<g data-dimension="check-bar">${pen.line(xMm, yMm, xMm + 100, yMm, INK, 0.3)}</g>`,
    ...ticks,
    pen.text(xMm, yMm + 4, '100 mm: measure it on the print, which has to be made at 100 %', 2.6),
  ].join('\n');
}
