import type { BackSurface, Lift } from '../back/index.ts';
import type { Random } from '../numeric/index.ts';
import { alongBack, fallAt, hingedLift, type SideChange } from './measuring-error-lift.ts';

/** What a measurement of a back can be off by, as a repeat of it would show. */
export type ErrorSource =
  | 'heights at the front'
  | 'heights in the middle'
  | 'heights at the rear'
  | 'slopes at the front'
  | 'slopes in the middle'
  | 'slopes at the rear';

export const ERROR_SOURCES: readonly ErrorSource[] = [
  'heights at the front',
  'heights in the middle',
  'heights at the rear',
  'slopes at the front',
  'slopes in the middle',
  'slopes at the rear',
];

/** Stations of the usable length at which errors are drawn, as shares of it, and what each belongs to. */
const STATIONS = [0, 0.25, 0.5, 0.75, 1] as const;
const PART = ['at the front', 'at the front', 'in the middle', 'at the rear', 'at the rear'] as const;
/** A stated uncertainty is read as 95 of 100 repeats. */
export const SIGMAS_STATED = 1.959964;

/** Factors on the standard deviations of some sources: a measurement repeated four times counts 0.5. */
export type SourceScale = Readonly<Partial<Record<ErrorSource | 'set position', number>>>;

/** One drawn error: unit normal deviates by side (left, right), kind and station, and the lift they make. */
export interface DrawnError {
  readonly deviates: readonly { readonly source: ErrorSource; readonly value: number }[];
  readonly lift: Lift;
}

/**
 * An error of measuring: at five stations of each side a height and a slope off by normal deviates, stated uncertainties
 * taken as 95 %, smooth between, turning about the bearing line. Sides and stations are independent.
 */
export function drawError(back: BackSurface, random: Random, sdScale: SourceScale = {}): DrawnError {
  const { uncertaintyMm, uncertaintyDeg } = back.measured;
  const deviates: { source: ErrorSource; value: number }[] = [];
  const draw = (kind: 'heights' | 'slopes', scale: number): number[] =>
    STATIONS.map((_, i) => {
      const value = normal(random);
      const source: ErrorSource = `${kind} ${PART[i]!}`;
      deviates.push({ source, value });
      return (scale * value * (sdScale[source] ?? 1)) / SIGMAS_STATED;
    });
  const radians = (uncertaintyDeg * Math.PI) / 180;
  const side = (sign: 1 | -1): SideChange => {
    const heights = alongBack(back, STATIONS, draw('heights', uncertaintyMm));
    const tilts = draw('slopes', radians).map((rad, i) => rad * secantSquared(back, sign, STATIONS[i]!));
    return { heights, tilts: alongBack(back, STATIONS, tilts) };
  };
  return { deviates, lift: hingedLift(side(-1), side(1)) };
}

/** Box-Muller, one of the pair. */
function normal(random: Random): number {
  const radius = Math.sqrt(-2 * Math.log(1 - random()));
  return radius * Math.cos(2 * Math.PI * random());
}

/** d tan(slope) / d slope of one side at the bearing line. */
function secantSquared(back: BackSurface, sign: 1 | -1, share: number): number {
  const fall = fallAt(back, sign, share * back.landmarks.lastRib[0]);
  return Number.isNaN(fall) ? 1 : 1 + fall * fall;
}
