import { rotationOf } from '../numeric/index.ts';
import { contactFigures } from './contact-figures.ts';
import { loadNewtons } from './loads.ts';
import { type SeatedTree, seatTree } from './seat-tree.ts';
import type { Setup } from './setup-schema.ts';

/** Tree bearing capacity (DESIGN 4): never a permission to ride. N. */
export interface Capacity {
  /** Allowable pressure x vertical projection of the core bearing zone: common practice, no source. */
  readonly ruleOfThumbN: number;
  readonly ruleOfThumbPsi: number;
  readonly coreProjectionCm2: number;
  readonly solved: readonly SolvedCapacity[];
}

/** First load at which a figure reaches its limit, for one load position. null where it does not within the range. */
export interface SolvedCapacity {
  readonly loadAtPercent: number;
  readonly meanN: number | null;
  readonly p95N: number | null;
  readonly peakN: number | null;
  /** Smallest of the above. */
  readonly firstN: number | null;
  readonly firstReached: 'mean' | 'p95' | 'peak' | null;
}

/** Load positions printed beside the one in use (DESIGN 4), percent of bar length. */
export const CAPACITY_POSITIONS: readonly number[] = [40, 47, 55];
const LEAST_N = 50;
const MOST_N = 8000;
const TOLERANCE = 0.002;
const KPA_PER_PSI = 6.894757293168361;

export interface CapacityOptions {
  readonly positions?: readonly number[];
}

/** Rule of thumb from the seated tree's core zone, and the solved loads by bisection with warm starts. */
export function bearingCapacity(seated: SeatedTree, options: CapacityOptions = {}): Capacity {
  const core = coreProjectionMm2(seated);
  const psi = seated.setup.limits.ruleOfThumbPsi;
  return {
    ruleOfThumbN: psi * KPA_PER_PSI * 1e-3 * core,
    ruleOfThumbPsi: psi,
    coreProjectionCm2: core / 100,
    solved: (options.positions ?? CAPACITY_POSITIONS).map((at) => solveAt(seated, at)),
  };
}

/** Vertical projection of the core bearing zone at the seated pose, mm2. */
export function coreProjectionMm2({ samples, seat }: SeatedTree): number {
  const r = rotationOf(seat.pose);
  let sum = 0;
  for (let i = 0; i < samples.count; i++) {
    const [nx, ny, nz] = [samples.normals[3 * i]!, samples.normals[3 * i + 1]!, samples.normals[3 * i + 2]!];
    sum += samples.coreAreaMm2[i]! * Math.abs(r[6]! * nx + r[7]! * ny + r[8]! * nz);
  }
  return sum;
}

interface Figures {
  mean: number;
  p95: number;
  peak: number;
}

function solveAt(seated: SeatedTree, loadAtPercent: number): SolvedCapacity {
  const setup: Setup = { ...seated.setup, load: { ...seated.setup.load, at: loadAtPercent } };
  const cache = new Map<number, Figures | null>();
  let start = seated.seat.pose;
  const at = (newtons: number): Figures | null => {
    const known = cache.get(newtons);
    if (known !== undefined) return known;
    const factor = (setup.load.factor * newtons) / loadNewtons(setup);
    const again = seatTree(
      seated.tree,
      seated.back,
      { ...setup, load: { ...setup.load, factor } },
      { start, samples: seated.samples },
    );
    const settled = again.status === 'settled';
    if (settled) start = again.seat.pose;
    const figures = settled ? pick(again) : null;
    cache.set(newtons, figures);
    return figures;
  };
  const { meanKPa, p95KPa, peakKPa } = seated.setup.limits;
  const meanN = firstLoad(at, (f) => f.mean, meanKPa);
  const p95N = p95KPa === null ? null : firstLoad(at, (f) => f.p95, p95KPa);
  const peakN = firstLoad(at, (f) => f.peak, peakKPa);
  const reached = (
    [
      ['mean', meanN],
      ['p95', p95N],
      ['peak', peakN],
    ] as const
  ).filter((e) => e[1] !== null);
  reached.sort((a, b) => a[1]! - b[1]!);
  return { loadAtPercent, meanN, p95N, peakN, firstN: reached[0]?.[1] ?? null, firstReached: reached[0]?.[0] ?? null };
}

function pick(seated: SeatedTree): Figures {
  const c = contactFigures(seated);
  return { mean: c.meanPressureKPa, p95: c.p95PressureKPa, peak: c.peakPressureKPa };
}

/** Smallest load in [LEAST_N, MOST_N] whose figure reaches the limit, scanned upward in steps of 1.5 x, then halved. */
function firstLoad(at: (n: number) => Figures | null, figure: (f: Figures) => number, limit: number): number | null {
  let low = LEAST_N;
  const first = at(low);
  if (first === null || figure(first) >= limit) return null;
  for (let high = LEAST_N * 1.5; high <= MOST_N; high *= 1.5) {
    const f = at(high);
    if (f === null) return null;
    if (figure(f) >= limit) return bisect(at, figure, limit, low, high);
    low = high;
  }
  return null;
}

function bisect(
  at: (n: number) => Figures | null,
  figure: (f: Figures) => number,
  limit: number,
  from: number,
  to: number,
): number | null {
  let low = from;
  let high = to;
  let atLow = figure(at(low)!);
  let atHigh = figure(at(high)!);
  for (let i = 0; i < 30 && high - low > TOLERANCE * low; i++) {
    const guess = low + ((limit - atLow) / (atHigh - atLow)) * (high - low);
    const mid =
      i % 3 === 2
        ? (low + high) / 2
        : Math.min(high - 0.1 * TOLERANCE * low, Math.max(low + 0.1 * TOLERANCE * low, guess));
    const f = at(mid);
    if (f === null) return null;
    const value = figure(f);
    if (Math.abs(value - limit) < 1e-3 * limit) return mid;
    if (value >= limit) {
      high = mid;
      atHigh = value;
    } else {
      low = mid;
      atLow = value;
    }
  }
  return (low + high) / 2;
}
