import type { BarSamples } from '../bar/index.ts';
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

/** Smallest pressure below which the given share of the contact area lies, MPa; 0 without contact. */
export function areaQuantile(samples: BarSamples, pressureMPa: Float64Array, share: number): number {
  const pressed: number[] = [];
  let total = 0;
  for (let i = 0; i < samples.count; i++) {
    if (!(pressureMPa[i]! > 0)) continue;
    pressed.push(i);
    total += samples.areaMm2[i]!;
  }
  pressed.sort((a, b) => pressureMPa[a]! - pressureMPa[b]!);
  let sum = 0;
  for (const i of pressed) {
    sum += samples.areaMm2[i]!;
    if (sum >= share * total) return pressureMPa[i]!;
  }
  return 0;
}

/**
 * Highest mean pressure over a disc of the given area, centred on each pressed cell in turn; a disc that hangs over the
 * bar's edge is averaged over the bar's part of it. Neighbours are found on the bar's grid.
 */
export function peakOverDisc(
  samples: BarSamples,
  placedMm: Float64Array,
  pressureMPa: Float64Array,
  discMm2: number,
): { pressureMPa: number; at: number } {
  const disc = new Disc(samples, placedMm, pressureMPa, discMm2 / Math.PI);
  let best = 0;
  let at = -1;
  for (const bar of samples.bars) {
    for (let i = bar.from; i < bar.to; i++) {
      if (!(pressureMPa[i]! > 0)) continue;
      const mean = disc.meanAround(i, bar.from);
      if (mean <= best) continue;
      best = mean;
      at = i;
    }
  }
  return { pressureMPa: best, at };
}

class Disc {
  private readonly reachRows: number;
  private area = 0;
  private force = 0;

  constructor(
    private readonly samples: BarSamples,
    private readonly placedMm: Float64Array,
    private readonly pressureMPa: Float64Array,
    private readonly radius2: number,
  ) {
    this.reachRows = Math.ceil(Math.sqrt(radius2) / (samples.lengthMm / samples.rows));
  }

  meanAround(i: number, barFrom: number): number {
    const { columns, rows } = this.samples;
    const row = Math.floor((i - barFrom) / columns);
    const column = (i - barFrom) % columns;
    this.area = 0;
    this.force = 0;
    for (let r = Math.max(0, row - this.reachRows); r <= Math.min(rows - 1, row + this.reachRows); r++) {
      const first = barFrom + r * columns;
      for (let k = first + column; k < first + columns && this.add(k, i); k++);
      for (let k = first + column - 1; k >= first && this.add(k, i); k--);
    }
    return this.area > 0 ? this.force / this.area : 0;
  }

  /** Counts cell k when it lies in the disc about cell i. */
  private add(k: number, i: number): boolean {
    const p = this.placedMm;
    const dx = p[3 * k]! - p[3 * i]!;
    const dy = p[3 * k + 1]! - p[3 * i + 1]!;
    const dz = p[3 * k + 2]! - p[3 * i + 2]!;
    if (dx * dx + dy * dy + dz * dz > this.radius2) return false;
    this.area += this.samples.areaMm2[k]!;
    this.force += this.samples.areaMm2[k]! * this.pressureMPa[k]!;
    return true;
  }
}
