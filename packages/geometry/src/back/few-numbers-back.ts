import { InputError, monotoneCubic } from '../numeric/index.ts';
import { createSectionHeight } from './section-height.ts';
import { type SectionsBackDocument, sectionsBackSchema } from './sections-schema.ts';

export type SideSlopesDeg = number | { readonly left: number; readonly right: number };

/** What a person can measure with a ruler and an angle gauge. mm and degrees. */
export interface FewNumbers {
  readonly name: string;
  /** Blade edge to last rib. */
  readonly usableLengthMm: number;
  /** Width across the withers at the blade edge, so far below its top. */
  readonly withersWidth: { readonly widthMm: number; readonly depthMm: number };
  /** Slope of the back at the bearing line, degrees below horizontal going outward. */
  readonly slopesDeg: {
    readonly behindBlade: SideSlopesDeg;
    readonly middle: SideSlopesDeg;
    readonly lastRib: SideSlopesDeg;
  };
  /** One of the two: dip of the topline below a straight line from blade edge to last rib, or sag of the bearing line. */
  readonly toplineDipMm?: number;
  readonly bearingLineSagMm?: number;
  readonly withersHeightMm?: number;
  readonly horseKg?: number;
  readonly measured: { readonly by: string; readonly on: string };
}

/**
 * What such a back may be off by: common practice, no source. From a dip the bearing line's heights hang on the assumed
 * sections too. A test takes these numbers from the demo horses and counts how much of them lies within.
 */
export const FEW_NUMBERS_UNCERTAINTY = Object.freeze({ mm: 8, dipMm: 12, deg: 4 });

/** Where those two figures come from, for a person. */
export const FEW_NUMBERS_REASON =
  'Our own judgement (common practice, no source): far more than a careful hand repeats, because only the listed numbers ' +
  'were measured and the shape between and beside them is an assumed average; most from a dip, whose heights rest on ' +
  'it too. Taken without error from the three demo horses, the numbers gave nine tenths of each back or more within them.';

const uncertaintyMm = ({ toplineDipMm }: FewNumbers): number =>
  toplineDipMm === undefined ? FEW_NUMBERS_UNCERTAINTY.mm : FEW_NUMBERS_UNCERTAINTY.dipMm;

const BEARING_LINE_Y_MM = 120;
const EDGE_Y_MM = 240;
/** The data goes on this far ahead of the blade edge and behind the last rib, with the slopes found there. */
const BEYOND_MM = 60;
const SLOPE_Y_MM = [25, 60, 120, 180];
/** Slope at these distances over the bearing line's: an average back, from memory, no source. */
const SHARES = { front: [0.9, 1, 1, 1.07], middle: [0.65, 0.9, 1, 1.2], rear: [0.5, 0.8, 1, 1.35] };
const LEAST_INNER = 0.1;
const MOST_INNER = 1.75;
const MOST_SLOPE_DEG = 75;

/**
 * A back from a few numbers taken by hand: slopes in three places carried along the back, the inner slopes at the withers
 * set so that the withers have the width given, the bearing line as a parabola of the sag. Its uncertainty says that most
 * of it is assumed.
 * @throws InputError 'missing' or 'inconsistent' unless exactly one of dip and sag is given; 'inconsistent' where no inner
 * slope gives that width; 'out-of-range' for numbers that no back has
 */
export function backFromFewNumbers(numbers: FewNumbers): SectionsBackDocument {
  refuseOutOfRange(numbers);
  const inner = innerShareFor(numbers);
  const draft = documentWith(numbers, inner, null);
  const fall = createSectionHeight(draft, { left: 0, right: 0 });
  const sag = numbers.bearingLineSagMm ?? numbers.toplineDipMm!;
  const length = numbers.usableLengthMm;
  const heights = draft.stationsMm.map((x) => {
    const line = 4 * sag * (x / length - 0.5) ** 2;
    if (numbers.bearingLineSagMm !== undefined) return line;
    const row = fall.row(x);
    return line + (row(BEARING_LINE_Y_MM) + row(-BEARING_LINE_Y_MM)) / 2 - row(0);
  });
  return sectionsBackSchema.parse(documentWith(numbers, inner, levelled(draft.stationsMm, heights, length)));
}

/**
 * A dip is measured below a stick that slopes as the withers stand above the loin; the stick's own slope is not known. So
 * the bearing line is laid equally high at blade edge and last rib, as it is on a horse that stands square (assumed), and
 * its low point at 0.
 */
function levelled(stations: readonly number[], heights: readonly number[], length: number): number[] {
  const rise = (heights[stations.indexOf(length)]! - heights[stations.indexOf(0)]!) / length;
  const level = heights.map((height, i) => height - rise * stations[i]!);
  const low = Math.min(...level);
  return level.map((height) => height - low);
}

const sides = (slope: SideSlopesDeg): { left: number; right: number } =>
  typeof slope === 'number' ? { left: slope, right: slope } : slope;

function documentWith(numbers: FewNumbers, inner: number, heights: number[] | null): SectionsBackDocument {
  const length = numbers.usableLengthMm;
  const stationsMm = [-BEYOND_MM, 0, length / 4, length / 2, (3 * length) / 4, length, length + BEYOND_MM];
  const { behindBlade, middle, lastRib } = numbers.slopesDeg;
  const places = [sides(behindBlade), sides(middle), sides(lastRib)];
  const front = SHARES.front.map((share, k) => (k < 2 ? share * inner : share));
  const columns = SLOPE_Y_MM.map((_, k) =>
    monotoneCubic(
      [0, length / 2, length],
      [front, SHARES.middle, SHARES.rear].map((shares, i) => Math.min(MOST_SLOPE_DEG, shares[k]! * places[i]!.right)),
    ),
  );
  const differences = places.map((p) => p.left - p.right);
  const meanDifference = differences.reduce((sum, d) => sum + d, 0) / 3;
  const asymmetry = { slopeDeg: meanDifference, liftMm: 0, fromMm: -BEYOND_MM, toMm: length + BEYOND_MM, rampMm: 50 };
  const mm = uncertaintyMm(numbers);
  const { deg } = FEW_NUMBERS_UNCERTAINTY;
  return {
    schema: 'barwright/back/1',
    kind: 'sections',
    name: numbers.name,
    notes: notesOf(numbers, differences, meanDifference),
    stationsMm,
    bearingLineYMm: BEARING_LINE_Y_MM,
    bearingHeightMm: heights ?? stationsMm.map(() => 0),
    slopeYMm: [...SLOPE_Y_MM],
    slopeDeg: stationsMm.map((x) => columns.map((column) => column.at(x)[0])),
    edgeYMm: EDGE_Y_MM,
    edgeSlopeAddDeg: 5,
    asymmetry: { left: meanDifference === 0 ? null : asymmetry, right: null },
    bladeBulge: { left: { heightMm: 0 }, right: { heightMm: 0 } },
    bladeSwingMm: 0,
    hollow: { left: null, right: null },
    usableLengthMm: length,
    ...(numbers.withersHeightMm === undefined ? {} : { withersHeightMm: numbers.withersHeightMm }),
    ...(numbers.horseKg === undefined ? {} : { horseKg: numbers.horseKg }),
    measured: { ...numbers.measured, uncertaintyMm: mm, uncertaintyDeg: deg },
  };
}

function notesOf(numbers: FewNumbers, differences: readonly number[], mean: number): string {
  const mm = uncertaintyMm(numbers);
  const { deg } = FEW_NUMBERS_UNCERTAINTY;
  const line = numbers.bearingLineSagMm === undefined ? 'topline dip' : 'bearing-line sag';
  const said = [
    `From a few numbers taken by hand: withers width, slopes in three places, ${line}, usable length.`,
    `Everything between and beside them is an assumed average shape (from memory, no source): uncertain by ${mm} mm and ${deg} degrees or more (common practice, no source).`,
    `Ahead of the blade edge and behind the last rib ${BEYOND_MM} mm are carried on, not measured. No blade patch, no hollow.`,
  ];
  if (differences.some((d) => Math.abs(d - mean) > 2)) {
    const list = differences.map((d) => d.toFixed(1)).join(', ');
    said.push(
      `Left less right slope was ${list} degrees in the three places; the back carries their mean, ${mean.toFixed(1)}.`,
    );
  }
  return said.join(' ');
}

/** Factor on the inner slopes at the blade edge for which the withers have their width at that depth. */
function innerShareFor(numbers: FewNumbers): number {
  const { widthMm, depthMm } = numbers.withersWidth;
  const depthAt = (inner: number): number => {
    const row = createSectionHeight(documentWith(numbers, inner, null), { left: 0, right: 0 }).row(0);
    return row(0) - (row(widthMm / 2) + row(-widthMm / 2)) / 2;
  };
  let low = LEAST_INNER;
  let high = MOST_INNER;
  const [least, most] = [depthAt(low), depthAt(high)];
  if (!(depthMm >= least && depthMm <= most)) {
    throw new InputError({
      code: 'inconsistent',
      field: 'withersWidth',
      got: `${widthMm} mm wide ${depthMm} mm below the top`,
      expected: `a depth of ${least.toFixed(0)} to ${most.toFixed(0)} mm at that width, with these slopes behind the blade`,
      remedy: 'Measure width, depth and slope again at the blade edge.',
    });
  }
  for (let step = 0; step < 60; step++) {
    const mid = (low + high) / 2;
    if (depthAt(mid) < depthMm) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}

function refuseOutOfRange(numbers: FewNumbers): void {
  const { toplineDipMm: dip, bearingLineSagMm: sag } = numbers;
  if ((dip === undefined) === (sag === undefined)) {
    throw new InputError({
      code: dip === undefined ? 'missing' : 'inconsistent',
      field: 'bearingLineSagMm',
      got: dip === undefined ? 'neither' : 'both',
      expected: 'one of toplineDipMm and bearingLineSagMm',
      remedy: 'Give the one that was measured.',
    });
  }
  const within = (field: string, value: number, from: number, to: number): void => {
    if (value >= from && value <= to) return;
    throw new InputError({
      code: Number.isFinite(value) ? 'out-of-range' : 'not-a-number',
      field,
      got: String(value),
      expected: `${from} to ${to}`,
      remedy: 'Check the number and its unit.',
    });
  };
  within('usableLengthMm', numbers.usableLengthMm, 200, 900);
  within('withersWidth.widthMm', numbers.withersWidth.widthMm, 40, 2 * EDGE_Y_MM);
  within('withersWidth.depthMm', numbers.withersWidth.depthMm, 20, 200);
  within(dip === undefined ? 'bearingLineSagMm' : 'toplineDipMm', (dip ?? sag)!, -20, 150);
  for (const [place, slope] of Object.entries(numbers.slopesDeg)) {
    within(`slopesDeg.${place}.left`, sides(slope).left, 0, 65);
    within(`slopesDeg.${place}.right`, sides(slope).right, 0, 65);
  }
}
