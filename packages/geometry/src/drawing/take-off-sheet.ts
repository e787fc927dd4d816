import { MM_PER_INCH } from '../units/index.ts';
import { type Chain, levelLines, regionRings, type ValueGrid } from './pressure-map-contours.ts';
import { placeLabels } from './pressure-map-labels.ts';
import { ACCENT, FONT, INK, LIGHT_INK, PAPER } from './pressure-map-paper.ts';
import { breakLines, escapeXml, figure, mm } from './pressure-map-text.ts';
import { arrow, SHEET_UNITS, type SheetPen, sheetPen } from './sheet-pen.ts';
import type { TakeOff, TakeOffBar } from './take-off.ts';

/** Steps of the contour lines that a shop works in. */
export const TAKE_OFF_STEPS = Object.freeze({ '1/16 in': MM_PER_INCH / 16, '0.5 mm': 0.5 });
export type TakeOffStep = keyof typeof TAKE_OFF_STEPS;

export interface TakeOffSheetOptions {
  readonly step: TakeOffStep;
  readonly carvedName: string;
  readonly wantedName: string;
  /** Day the sheet was drawn, yyyy-mm-dd. */
  readonly drawnOn: string;
  /** Full text, one paragraph each. */
  readonly cautions: readonly string[];
  /** Stations of the carved bar to rule across, from its front tip edge, mm. */
  readonly stations?: readonly { readonly name: string; readonly bMm: number }[];
}

const MARGIN = 12;
const HEAD = 34;
const BETWEEN = 34;
/** Every so many lines one is heavy and carries its figure. */
const HEAVY = 4;
const MOST_LINES = 40;
/** Wood to add that no rasp can tell is not hatched, mm. */
const HATCHED_FROM = 0.1;

interface Placed {
  readonly bar: TakeOffBar;
  readonly grid: ValueGrid;
  /** [right, down] on the paper of a node, mm. */
  readonly at: readonly (readonly [number, number])[];
}

/**
 * Both carved undersides unrolled as SVG text at their true size, one page unit a quarter of a millimetre: seen from below, front to
 * the left, left bar above. Contours say how deep to go square to the underside; hatched where wood would have to be added.
 */
export function drawTakeOff(map: TakeOff, options: TakeOffSheetOptions): string {
  const reach = (bar: TakeOffBar) => [Math.min(...bar.acrossMm), Math.max(...bar.acrossMm)] as const;
  const [leftIn, leftOut] = reach(map.left);
  const [rightIn, rightOut] = reach(map.right);
  const leftZero = HEAD + MARGIN + leftOut + 8;
  const rightZero = leftZero - leftIn + BETWEEN - rightIn;
  const width = 2 * MARGIN + Math.max(map.left.alongMm.at(-1)!, map.right.alongMm.at(-1)!, 260);
  const text = notes(map, options, width - 2 * MARGIN);
  const underBars = rightZero + rightOut + 16;
  const height = underBars + 14 + 5 * text.length + MARGIN;
  const pen = sheetPen(width, height);
  const [left, right] = [place(map.left, leftZero, -1), place(map.right, rightZero, 1)];
  const step = usedStep(map, options.step);
  const body = [
    head(pen, map, options),
    drawBar(pen, left, step, options),
    drawBar(pen, right, step, options),
    pen.text(
      MARGIN,
      leftZero - leftIn + BETWEEN / 2 + 1.5,
      'midline of the horse, not to scale between the bars',
      3.2,
      {
        colour: LIGHT_INK,
      },
    ),
    checkBar(pen, underBars),
    ...text.map((line, i) => pen.text(MARGIN, underBars + 14 + 5 * i, line, 3.4)),
  ].join('\n');
  const title = `Take off: from ${options.carvedName} to ${options.wantedName}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(width)}mm" height="${mm(height)}mm" viewBox="0 0 ${mm(width * SHEET_UNITS)} ${mm(height * SHEET_UNITS)}" font-family="${FONT}" fill="${INK}">
<title>${escapeXml(title)}</title>
<defs>${PATTERNS}</defs>
<rect width="${mm(width * SHEET_UNITS)}" height="${mm(height * SHEET_UNITS)}" fill="${PAPER}"/>
${body}
</svg>
`;
}

const PATTERNS =
  `<pattern id="take-off-add" width="10" height="10" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="10" stroke="${ACCENT}" stroke-width="2.4"/></pattern>` +
  `<pattern id="take-off-away" width="8" height="8" patternUnits="userSpaceOnUse"><path d="M0 0L8 8M8 0L0 8" stroke="${LIGHT_INK}" stroke-width="1"/></pattern>`;

function place(bar: TakeOffBar, zeroMm: number, down: 1 | -1): Placed {
  const at = Array.from(bar.depthMm, (_, k) => {
    const along = bar.alongMm[Math.floor(k / bar.columns)]!;
    return [MARGIN + along, zeroMm + down * bar.acrossMm[k]!] as const;
  });
  return { bar, at, grid: { rows: bar.rows, columns: bar.columns, values: bar.depthMm } };
}

interface UsedStep {
  readonly mm: number;
  /** A multiple of the wanted step, where its own lines would run together. */
  readonly times: number;
  readonly words: (count: number) => string;
}

function usedStep({ left, right }: TakeOff, step: TakeOffStep): UsedStep {
  const least = TAKE_OFF_STEPS[step];
  const most = Math.max(left.deepestMm, right.deepestMm, left.mostAddedMm, right.mostAddedMm);
  let times = 1;
  while (most / (least * times) > MOST_LINES) times *= 2;
  const words = (count: number): string =>
    step === '0.5 mm' ? figure(count * times * least, (count * times) % 2 === 0 ? 0 : 1) : sixteenths(count * times);
  return { mm: least * times, times, words };
}

/** 5 as 5/16, 20 as 1 1/4: inches. */
export function sixteenths(count: number): string {
  const [sign, all] = [count < 0 ? '\u2212' : '', Math.abs(count)];
  const [whole, rest] = [Math.floor(all / 16), all % 16];
  const divisor = rest === 0 ? 16 : [8, 4, 2, 1].find((d) => rest % d === 0)!;
  const fraction = rest === 0 ? '' : `${rest / divisor}/${16 / divisor}`;
  return `${sign}${whole === 0 && rest > 0 ? fraction : `${whole}${fraction === '' ? '' : ` ${fraction}`}`}`;
}

function drawBar(pen: SheetPen, placed: Placed, step: UsedStep, options: TakeOffSheetOptions): string {
  const { stations = [] } = options;
  const { bar, grid, at } = placed;
  const outline = outlineOf(placed);
  const rings = (values: Float64Array, level: number): string =>
    regionRings({ ...grid, values }, level)
      .map((ring) => closed(ring.map((crossing) => pointOf(at, crossing))))
      .join('');
  const lack = bar.depthMm.map((depth) => -depth);
  const away = bar.depthMm.map((depth) => (Number.isNaN(depth) ? 1 : 0));
  const levels = levelsOf(bar, step.mm);
  const heavy = levels.filter((count) => count > 0 && count % HEAVY === 0);
  const lines = levels.flatMap((count) =>
    levelLines(grid, count * step.mm).map((chain) => ({
      level: count,
      points: chain.map((crossing) => onPage(pointOf(at, crossing))),
    })),
  );
  const labels = placeLabels(
    lines.filter(({ level }) => level % HEAVY === 0 || levels.length <= 10),
    [],
  );
  return [
    `<path d="${outline}" fill="#f2e7d2"/>`,
    ...heavy.map(
      (count) =>
        `<path d="${rings(bar.depthMm, count * step.mm)}" fill="${INK}" fill-opacity="0.06" fill-rule="evenodd"/>`,
    ),
    `<path class="added" d="${rings(lack, HATCHED_FROM)}" fill="url(#take-off-add)" fill-rule="evenodd"/>`,
    `<path d="${rings(away, 0.02)}" fill="url(#take-off-away)" fill-rule="evenodd"/>`,
    ...lines.map(
      ({ level, points }) =>
        `<path class="contour" d="${open(points)}" fill="none" stroke="${level < 0 ? ACCENT : INK}" stroke-width="${level % HEAVY === 0 ? 1.1 : 0.5}"/>`,
    ),
    `<path d="${outline}" fill="none" stroke="${INK}" stroke-width="1.4"/>`,
    ...stations.map((station) => stationLine(pen, placed, station)),
    ...labels.map(({ x, y, level }) =>
      pen.text(x / SHEET_UNITS, y / SHEET_UNITS + 1.4, step.words(level), 4, {
        anchor: 'middle',
        halo: '#f2e7d2',
        ...(level < 0 ? { colour: ACCENT } : {}),
      }),
    ),
    barWords(pen, placed, options.step),
  ].join('\n');
}

/** Whole steps between the greatest addition and the greatest depth, without 0. */
function levelsOf(bar: TakeOffBar, stepMm: number): number[] {
  const [from, to] = [-Math.floor(bar.mostAddedMm / stepMm), Math.floor(bar.deepestMm / stepMm)];
  return Array.from({ length: to - from + 1 }, (_, i) => from + i).filter((count) => count !== 0);
}

function outlineOf({ bar, at }: Placed): string {
  const { rows, columns } = bar;
  const row = (i: number): number[] => Array.from({ length: columns }, (_, j) => i * columns + j);
  const column = (j: number): number[] => Array.from({ length: rows }, (_, i) => i * columns + j);
  const ring = [...row(0), ...column(columns - 1), ...row(rows - 1).reverse(), ...column(0).reverse()];
  return closed(ring.map((k) => at[k]!));
}

/** A station across the bar, a little past both edges, with its name. */
function stationLine(pen: SheetPen, { bar, at }: Placed, { name, bMm }: { name: string; bMm: number }): string {
  const i = bar.bMm.findIndex((b) => b >= bMm);
  if (i < 1) return '';
  const share = (bMm - bar.bMm[i - 1]!) / (bar.bMm[i]! - bar.bMm[i - 1]!);
  const end = (j: number): [number, number] => {
    const [a, b] = [at[(i - 1) * bar.columns + j]!, at[i * bar.columns + j]!];
    return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
  };
  const [inner, outer] = [end(0), end(bar.columns - 1)];
  const out = Math.sign(outer[1] - inner[1]);
  return (
    pen.line(inner[0], inner[1] - 3 * out, outer[0], outer[1] + 3 * out, LIGHT_INK, 0.2, '8 4') +
    pen.text(outer[0] + 1, outer[1] + (out > 0 ? 6 : -3), name, 4.2, { colour: LIGHT_INK })
  );
}

function barWords(pen: SheetPen, { bar, at }: Placed, step: TakeOffStep): string {
  const inner = Array.from({ length: bar.rows }, (_, i) => at[i * bar.columns]!);
  const isLeft = bar.side === 'left';
  const edge = (isLeft ? Math.max : Math.min)(...inner.map(([, y]) => y));
  const y = isLeft ? edge + 6 : edge - 3;
  return pen.text(MARGIN, y, `${isLeft ? 'Left' : 'Right'} bar. ${takeOffWords(bar, step)}`, 4.4, { bold: true });
}

const MM2_PER_IN2 = MM_PER_INCH ** 2;
/** Of an outline's difference, mm2: less is the grid's own edge. */
const LEAST_AREA = 50;

/** What one bar asks for, in the shop's unit: "Remove 61 cm3, at most 3.2 mm deep; nothing to add." */
export function takeOffWords(bar: TakeOffBar, step: TakeOffStep): string {
  const { volume, area, depth } = step === '0.5 mm' ? METRIC_WORDS : INCH_WORDS;
  const remove =
    bar.removeMm3 < 1 ? 'Nothing to remove' : `Remove ${volume(bar.removeMm3)}, at most ${depth(bar.deepestMm)} deep`;
  const add =
    bar.addMm3 < 1
      ? 'nothing to add'
      : `${volume(bar.addMm3)} would have to be added, at most ${depth(bar.mostAddedMm)}`;
  return [
    `${remove}; ${add}.`,
    ...(bar.cutAwayMm2 > LEAST_AREA ? [`${area(bar.cutAwayMm2)} past the wanted outline.`] : []),
    ...(bar.lackingMm2 > LEAST_AREA ? [`${area(bar.lackingMm2)} of the wanted bar has no wood here.`] : []),
  ].join(' ');
}

type Words = Readonly<Record<'volume' | 'area' | 'depth', (value: number) => string>>;

const METRIC_WORDS: Words = {
  volume: (mm3) => `${figure(mm3 / 1000, mm3 < 1e4 ? 1 : 0)} cm\u00b3`,
  area: (mm2) => `${figure(mm2 / 100, 0)} cm\u00b2`,
  depth: (mm) => `${figure(mm, 1)} mm`,
};

const INCH_WORDS: Words = {
  volume: (mm3) => `${figure(mm3 / MM_PER_INCH ** 3, 2)} in\u00b3`,
  area: (mm2) => `${figure(mm2 / MM2_PER_IN2, 1)} in\u00b2`,
  depth: (mm) => `${figure(mm / MM_PER_INCH, 2)} in`,
};

function head(pen: SheetPen, map: TakeOff, { carvedName, wantedName, drawnOn, step }: TakeOffSheetOptions): string {
  const { times } = usedStep(map, step);
  const steps = `Lines every ${step === '0.5 mm' ? `${0.5 * times} mm` : `${sixteenths(times)} in`}, figures in ${step === '0.5 mm' ? 'mm' : 'inches'}`;
  return [
    pen.text(MARGIN, 14, `Take off: from ${carvedName} to ${wantedName}`, 6, { bold: true }),
    pen.text(
      MARGIN,
      21,
      `Undersides seen from below and unrolled, front to the left. ${steps}, square to the carved underside.`,
      3.6,
    ),
    pen.text(
      MARGIN,
      27,
      `Laid together by their ${map.align}, low points of the bearing line ${map.raiseMm === 0 ? 'at one height' : `${figure(map.raiseMm, 1)} mm apart: the wanted one is laid higher into the wood`}. Drawn ${drawnOn}.`,
      3.6,
    ),
  ].join('');
}

function checkBar(pen: SheetPen, y: number): string {
  const bar = (x: number, length: number, words: string): string =>
    pen.line(x, y, x + length, y, INK, 0.3) +
    pen.line(x, y - 1.5, x, y + 1.5, INK, 0.3) +
    pen.line(x + length, y - 1.5, x + length, y + 1.5, INK, 0.3) +
    pen.text(x, y + 5, words, 3.2);
  return (
    bar(MARGIN, 100, '100 mm: measure it on the print before cutting') +
    bar(MARGIN + 120, 4 * MM_PER_INCH, '4 in') +
    arrow(pen, MARGIN + 16, y - 6, MARGIN, y - 6, INK) +
    pen.text(MARGIN + 18, y - 5, 'front', 3.2)
  );
}

function notes(map: TakeOff, { cautions }: TakeOffSheetOptions, widthMm: number): string[] {
  const lacks = map.raiseForNoneAddedMm > map.raiseMm + 0.05;
  const paragraphs = [
    'Hatched aslant: more than 0.1 mm of wood would have to be added there. Hatched crosswise: past the outline of the wanted bar, cut away whole.',
    'Lengths are true along the bearing line and across it; elsewhere an underside that is rocked and twisted does not roll out flat without a little stretch.',
    ...(lacks
      ? [
          `Laid ${figure(map.raiseForNoneAddedMm, 1)} mm higher into the wood the wanted underside would need nothing added, and the bars would be thinner by as much.`,
        ]
      : []),
    ...cautions,
  ];
  return paragraphs.flatMap((paragraph) => breakLines(paragraph, 3.4, widthMm));
}

function pointOf(at: Placed['at'], { nodeA, nodeB, share }: Chain[number]): readonly [number, number] {
  const [a, b] = [at[nodeA]!, at[nodeB]!];
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
}

type Point = readonly [number, number];

const onPage = ([x, y]: Point): Point => [x * SHEET_UNITS, y * SHEET_UNITS];
const open = (points: readonly Point[]): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${mm(x)} ${mm(y)}`).join('');
const closed = (points: readonly Point[]): string => `${open(points.map(onPage))}Z`;
