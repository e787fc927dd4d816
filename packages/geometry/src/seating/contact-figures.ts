import type { BarSamples } from '../bar/index.ts';
import { peakOverDisc } from './peak-over-disc.ts';
import type { SeatedTree } from './seat-tree.ts';

/** Contact, pressure and shares of one seating. Areas are on the underside; shares by vertical force (DESIGN 4). */
export interface ContactFigures {
  areaCm2: number;
  areaLeftCm2: number;
  areaRightCm2: number;
  /** Contact by thirds of overall length, front to rear, cm2. */
  areaByThirdCm2: [number, number, number];
  coreAreaCm2: number;
  /** Contact / bearing surface with data. */
  fraction: number;
  /** sum pA / sum A over contact. */
  meanPressureKPa: number;
  loadOverAreaKPa: number;
  /** 95th percentile weighted by area over contact cells. */
  p95PressureKPa: number;
  /** Highest mean over the averaging disc. */
  peakPressureKPa: number;
  averagingCellCm2: number;
  /** Mean pressure in each third, kPa; null without contact there. */
  meanByThirdKPa: [number | null, number | null, number | null];
  /** Where the vertical force acts, horse frame; null without contact. */
  centreOfPressureXMm: number | null;
  centreOfPressureYMm: number | null;
  shareFront: number;
  shareMiddle: number;
  shareRear: number;
  shareLeft: number;
  shareRight: number;
  /** Where the peak is: distance from the front tip and side. */
  peakAt: { side: 'left' | 'right'; bMm: number; t: number } | null;
}

/** Adds up the cells. All figures are plain sums over the samples, so that an exported table reproduces them. */
export function contactFigures(seated: SeatedTree): ContactFigures {
  const { samples, seat, setup } = seated;
  const sums = sumCells(seated);
  const contact = sums.areaLeft + sums.areaRight;
  const peak = peakOverDisc(samples, seat.placedMm, seat.pressureMPa, setup.averagingCellCm2 * 100);
  const share = (n: number): number => (sums.vertical > 0 ? n / sums.vertical : 0);
  const third = (i: number): number | null =>
    sums.areaThirds[i]! > 0 ? (1000 * sums.pressThirds[i]!) / sums.areaThirds[i]! : null;
  return {
    areaCm2: contact / 100,
    areaLeftCm2: sums.areaLeft / 100,
    areaRightCm2: sums.areaRight / 100,
    areaByThirdCm2: [sums.areaThirds[0]! / 100, sums.areaThirds[1]! / 100, sums.areaThirds[2]! / 100],
    coreAreaCm2: sums.core / 100,
    fraction: sums.withData > 0 ? contact / sums.withData : 0,
    meanPressureKPa: contact > 0 ? (1000 * sums.press) / contact : 0,
    loadOverAreaKPa: contact > 0 ? (1000 * seated.loadN) / contact : 0,
    p95PressureKPa: 1000 * areaQuantile(samples, seat.pressureMPa, 0.95),
    peakPressureKPa: 1000 * peak.pressureMPa,
    averagingCellCm2: setup.averagingCellCm2,
    meanByThirdKPa: [third(0), third(1), third(2)],
    centreOfPressureXMm: sums.vertical > 0 ? sums.momentX / sums.vertical : null,
    centreOfPressureYMm: sums.vertical > 0 ? sums.momentY / sums.vertical : null,
    shareFront: share(sums.verticalThirds[0]!),
    shareMiddle: share(sums.verticalThirds[1]!),
    shareRear: share(sums.verticalThirds[2]!),
    shareLeft: share(sums.verticalLeft),
    shareRight: share(sums.vertical - sums.verticalLeft),
    peakAt: peak.at < 0 ? null : placeOf(samples, peak.at),
  };
}

function placeOf(samples: BarSamples, i: number): { side: 'left' | 'right'; bMm: number; t: number } {
  return { side: i < samples.bars[0].to ? 'left' : 'right', bMm: samples.bMm[i]!, t: samples.t[i]! };
}

function sumCells({ samples, seat }: SeatedTree) {
  const s = {
    areaLeft: 0,
    areaRight: 0,
    core: 0,
    withData: 0,
    press: 0,
    vertical: 0,
    verticalLeft: 0,
    momentX: 0,
    momentY: 0,
    areaThirds: [0, 0, 0],
    pressThirds: [0, 0, 0],
    verticalThirds: [0, 0, 0],
  };
  const leftEnd = samples.bars[0].to;
  for (let i = 0; i < samples.count; i++) {
    if (seat.mask[i] === 0) continue;
    const area = samples.areaMm2[i]!;
    s.withData += area;
    const p = seat.pressureMPa[i]!;
    if (!(p > 0)) continue;
    const third = Math.min(2, Math.floor((3 * samples.bMm[i]!) / samples.lengthMm));
    const vertical = p * area * seat.rows.normal[3 * i + 2]!;
    if (i < leftEnd) {
      s.areaLeft += area;
      s.verticalLeft += vertical;
    } else s.areaRight += area;
    s.core += samples.coreAreaMm2[i]!;
    s.press += p * area;
    s.vertical += vertical;
    s.momentX += vertical * seat.placedMm[3 * i]!;
    s.momentY += vertical * seat.placedMm[3 * i + 1]!;
    s.areaThirds[third]! += area;
    s.pressThirds[third]! += p * area;
    s.verticalThirds[third]! += vertical;
  }
  return s;
}

const QUANTILE_BINS = 512;

/**
 * Smallest pressure below which the given share of the contact area lies, MPa; 0 without contact. Cells are counted into
 * bins first, so that only those of one bin have to be put in order.
 */
export function areaQuantile(samples: BarSamples, pressureMPa: Float64Array, share: number): number {
  const highest = pressureMPa.reduce((a, b) => Math.max(a, b), 0);
  if (!(highest > 0)) return 0;
  const binOf = (p: number): number => Math.min(QUANTILE_BINS - 1, Math.floor((QUANTILE_BINS * p) / highest));
  const inBin = new Float64Array(QUANTILE_BINS);
  let total = 0;
  for (let i = 0; i < samples.count; i++) {
    if (!(pressureMPa[i]! > 0)) continue;
    inBin[binOf(pressureMPa[i]!)]! += samples.areaMm2[i]!;
    total += samples.areaMm2[i]!;
  }
  let sum = 0;
  let bin = 0;
  while (bin < QUANTILE_BINS - 1 && sum + inBin[bin]! < share * total) sum += inBin[bin++]!;
  return quantileWithin(samples, pressureMPa, (p) => binOf(p) === bin, share * total - sum);
}

/** The same among the cells that `counts`, for an area instead of a share; their highest pressure if they fall short. */
function quantileWithin(
  samples: BarSamples,
  pressureMPa: Float64Array,
  counts: (p: number) => boolean,
  areaMm2: number,
): number {
  const pressed: number[] = [];
  for (let i = 0; i < samples.count; i++) if (pressureMPa[i]! > 0 && counts(pressureMPa[i]!)) pressed.push(i);
  pressed.sort((a, b) => pressureMPa[a]! - pressureMPa[b]!);
  let sum = 0;
  for (const i of pressed) {
    sum += samples.areaMm2[i]!;
    if (sum >= areaMm2) return pressureMPa[i]!;
  }
  return pressed.length === 0 ? 0 : pressureMPa[pressed[pressed.length - 1]!]!;
}
