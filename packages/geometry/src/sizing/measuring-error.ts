import type { BackSurface, Lift } from '../back/index.ts';
import { type Curve1, cubicSpline, type Random } from '../numeric/index.ts';

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
const BEYOND_MM = 150;
const BEARING_Y_MM = 120;
const RIDGE_MM = 30;
/** A stated uncertainty is read as 95 of 100 repeats. */
export const SIGMAS_STATED = 1.959964;

/** One drawn error: unit normal deviates by side (left, right), kind and station, and the lift they make. */
export interface DrawnError {
  readonly deviates: readonly { readonly source: ErrorSource; readonly value: number }[];
  readonly lift: Lift;
}

/**
 * An error of measuring: at five stations of each side a height and a slope off by normal deviates, stated uncertainties
 * taken as 95 %, smooth between, turning about the bearing line. Sides and stations are independent.
 */
export function drawError(back: BackSurface, random: Random): DrawnError {
  const { uncertaintyMm, uncertaintyDeg } = back.measured;
  const deviates: { source: ErrorSource; value: number }[] = [];
  const draw = (kind: 'heights' | 'slopes', scale: number): number[] =>
    STATIONS.map((_, i) => {
      const value = normal(random);
      deviates.push({ source: `${kind} ${PART[i]!}` as ErrorSource, value });
      return (scale * value) / SIGMAS_STATED;
    });
  const radians = (uncertaintyDeg * Math.PI) / 180;
  const side = (sign: 1 | -1): SideError => {
    const heights = along(back, draw('heights', uncertaintyMm));
    const slopes = draw('slopes', radians);
    return {
      heights,
      tilts: along(
        back,
        slopes.map((rad, i) => rad * secantSquared(back, sign, STATIONS[i]!)),
      ),
    };
  };
  return { deviates, lift: liftOf(side(-1), side(1)) };
}

/** Box-Muller, one of the pair. */
function normal(random: Random): number {
  const radius = Math.sqrt(-2 * Math.log(1 - random()));
  return radius * Math.cos(2 * Math.PI * random());
}

interface SideError {
  readonly heights: Curve1;
  /** Change of the fall per mm outward. */
  readonly tilts: Curve1;
}

/** A smooth curve through values at the stations, level beyond them. */
function along(back: BackSurface, values: readonly number[]): Curve1 {
  const length = back.landmarks.lastRib[0];
  const [from, to] = [-BEYOND_MM, length + BEYOND_MM];
  const spline = cubicSpline(
    [from, ...STATIONS.map((share) => share * length), to],
    [values[0]!, ...values, values[values.length - 1]!],
  );
  return {
    at(x) {
      if (x >= from && x <= to) return spline.at(x);
      return [spline.at(Math.min(to, Math.max(from, x)))[0], 0, 0];
    },
  };
}

/** d tan(slope) / d slope of one side at the bearing line. */
function secantSquared(back: BackSurface, sign: 1 | -1, share: number): number {
  const x = share * back.landmarks.lastRib[0];
  const fall = (back.heightMm(x, sign * 90) - back.heightMm(x, sign * 150)) / 60;
  return Number.isNaN(fall) ? 1 : 1 + fall * fall;
}

/** Steeper by a positive tilt: the back falls away outward of the bearing line and rises inward of it. */
function liftOf(left: SideError, right: SideError): Lift {
  const hinge = Math.hypot(BEARING_Y_MM, RIDGE_MM);
  const jet: Lift['jet'] = (x, y, out) => {
    const { heights, tilts } = y < 0 ? left : right;
    const h = heights.at(x);
    const k = tilts.at(x);
    const run = Math.hypot(y, RIDGE_MM);
    const arm = hinge - run;
    out.z = h[0] + k[0] * arm;
    out.zx = h[1] + k[1] * arm;
    out.zxx = h[2] + k[2] * arm;
    out.zy = (-k[0] * y) / run;
    out.zxy = (-k[1] * y) / run;
    out.zyy = (-k[0] * RIDGE_MM ** 2) / run ** 3;
    return out;
  };
  const scratch = { z: 0, zx: 0, zy: 0, zxx: 0, zxy: 0, zyy: 0 };
  return {
    fromXMm: Number.NEGATIVE_INFINITY,
    toXMm: Number.POSITIVE_INFINITY,
    at: (x, y) => jet(x, y, scratch).z,
    jet,
  };
}
