import { createHeightJet, type Underside } from './underside.ts';

/** One bar's place in the sample arrays. */
export interface BarRange {
  readonly side: 'left' | 'right';
  readonly from: number;
  readonly to: number;
}

/**
 * Both undersides as cells: left bar first, then right; each bar row by row from the front tip, inner edge to outer.
 * Points and normals in the bar frame (origin on the midplane at the low point of the bearing line, x rearward, y right, z up).
 */
export interface BarSamples {
  readonly count: number;
  readonly rows: number;
  readonly columns: number;
  readonly bars: readonly [BarRange, BarRange];
  readonly lengthMm: number;
  /** x of the front tip edge in the bar frame, mm (negative). */
  readonly frontTipXMm: number;
  readonly bMm: Float64Array;
  /** -1 inner edge .. +1 outer edge. */
  readonly t: Float64Array;
  /** 3n */
  readonly pointsMm: Float64Array;
  /** 3n, unit, out of the bar: towards the horse. */
  readonly normals: Float64Array;
  /** Bearing surface of each cell, stirrup slot taken out. */
  readonly areaMm2: Float64Array;
  /** The part of areaMm2 in the core bearing zone. */
  readonly coreAreaMm2: Float64Array;
}

export interface SampleOptions {
  /** Wanted number of cells, both bars together. */
  readonly samples: number;
}

export const SAMPLE_DEFAULTS: Readonly<SampleOptions> = Object.freeze({ samples: 10_000 });

/** Share of the bar's length, from the front tip, where the core bearing zone begins and ends (DESIGN 2). */
export const CORE_FROM = 0.15;
export const CORE_TO = 0.85;

/**
 * Cuts both undersides into cells of nearly equal size. Midpoint rule: the area's error falls with the square of the cell.
 * Both bars must have the same length and low point.
 */
export function sampleBars(left: Underside, right: Underside, options: SampleOptions = SAMPLE_DEFAULTS): BarSamples {
  const lengthMm = right.shape.lengthMm;
  const perBar = Math.max(64, options.samples / 2);
  const meanWidth = right.row(lengthMm / 2).chordWidthMm * 0.35 + right.row(lengthMm * 0.25).chordWidthMm * 0.65;
  const rows = Math.max(8, Math.round(Math.sqrt((perBar * lengthMm) / meanWidth)));
  const columns = Math.max(4, Math.round(perBar / rows));
  const n = rows * columns;
  const samples: BarSamples = {
    count: 2 * n,
    rows,
    columns,
    bars: [
      { side: 'left', from: 0, to: n },
      { side: 'right', from: n, to: 2 * n },
    ],
    lengthMm,
    frontTipXMm: -right.shape.rockLowPointMm,
    bMm: new Float64Array(2 * n),
    t: new Float64Array(2 * n),
    pointsMm: new Float64Array(6 * n),
    normals: new Float64Array(6 * n),
    areaMm2: new Float64Array(2 * n),
    coreAreaMm2: new Float64Array(2 * n),
  };
  fillBar(samples, left, 0, -1);
  fillBar(samples, right, n, 1);
  return samples;
}

function fillBar(out: BarSamples, bar: Underside, from: number, mirror: 1 | -1): void {
  const { rows, columns } = out;
  const db = out.lengthMm / rows;
  const dt = 2 / columns;
  const jet = createHeightJet();
  const slot = slotOf(bar);
  for (let i = 0; i < rows; i++) {
    const b = (i + 0.5) * db;
    const row = bar.row(b);
    const half = row.outlineHalfWidthY;
    const coreShareB = overlap(b - db / 2, b + db / 2, CORE_FROM * out.lengthMm, CORE_TO * out.lengthMm) / db;
    const slotShareB = overlap(b - db / 2, b + db / 2, slot.fromMm, slot.toMm) / db;
    const slotMiddle = -1 + 2 * bar.shape.slotAcross;
    const slotHalf = bar.shape.slotWidthMm / Math.max(row.chordWidthMm, 1);
    for (let j = 0; j < columns; j++) {
      const k = from + i * columns + j;
      const t = -1 + (j + 0.5) * dt;
      const y = row.middleY[0] + t * half;
      bar.heightJet(row, y, jet);
      const stretch = Math.sqrt(1 + jet.zb * jet.zb + jet.zy * jet.zy);
      const slotShare =
        (slotShareB * overlap(t - dt / 2, t + dt / 2, slotMiddle - slotHalf, slotMiddle + slotHalf)) / dt;
      const coreShareT = overlap(t - dt / 2, t + dt / 2, -1, 1 - 2 * bar.shape.reliefFraction) / dt;
      const area = stretch * half * dt * db * Math.max(0, 1 - slotShare);
      out.bMm[k] = b;
      out.t[k] = t;
      out.pointsMm[3 * k] = out.frontTipXMm + b;
      out.pointsMm[3 * k + 1] = mirror * y;
      out.pointsMm[3 * k + 2] = jet.z;
      out.normals[3 * k] = jet.zb / stretch;
      out.normals[3 * k + 1] = (mirror * jet.zy) / stretch;
      out.normals[3 * k + 2] = -1 / stretch;
      out.areaMm2[k] = area;
      out.coreAreaMm2[k] = area * coreShareB * coreShareT;
    }
  }
}

function slotOf(bar: Underside): { fromMm: number; toMm: number } {
  const { slotCentreMm, slotLengthMm, slotWidthMm } = bar.shape;
  const half = slotWidthMm > 0 ? slotLengthMm / 2 : 0;
  return { fromMm: slotCentreMm - half, toMm: slotCentreMm + half };
}

function overlap(a0: number, a1: number, b0: number, b1: number): number {
  return Math.max(0, Math.min(a1, b1) - Math.max(a0, b0));
}
