import type { BackSurface, Lift } from '../back/index.ts';
import { type Curve1, cubicSpline } from '../numeric/index.ts';

const BEYOND_MM = 150;
const BEARING_Y_MM = 120;
const RIDGE_MM = 30;

/** What one side gains along the back: mm along z at the bearing line, and change of its fall per mm outward. */
export interface SideChange {
  readonly heights: Curve1;
  readonly tilts: Curve1;
}

/** A smooth curve through values at shares of the usable length, level beyond them. */
export function alongBack(back: BackSurface, shares: readonly number[], values: readonly number[]): Curve1 {
  const length = back.landmarks.lastRib[0];
  const [from, to] = [-BEYOND_MM, length + BEYOND_MM];
  const spline = cubicSpline(
    [from, ...shares.map((share) => share * length), to],
    [values[0]!, ...values, values[values.length - 1]!],
  );
  return {
    at(x) {
      if (x >= from && x <= to) return spline.at(x);
      return [spline.at(Math.min(to, Math.max(from, x)))[0], 0, 0];
    },
  };
}

/** Tangent of one side's slope at the bearing line, + falling outward; NaN off the data. `sign` -1 left, 1 right. */
export const fallAt = (back: BackSurface, sign: 1 | -1, xMm: number): number =>
  (back.heightMm(xMm, sign * 90) - back.heightMm(xMm, sign * 150)) / 60;

/** Steeper by a positive tilt: the back falls away outward of the bearing line and rises inward of it. */
export function hingedLift(left: SideChange, right: SideChange): Lift {
  const hinge = Math.hypot(BEARING_Y_MM, RIDGE_MM);
  // The rounded ridge takes a little off every slope; at the bearing line the tilt is what it says.
  const full = hinge / BEARING_Y_MM;
  const [atLeft, atRight] = [left, right].map(({ heights, tilts }) => ({
    heights: keepingLast(heights),
    tilts: keepingLast(tilts),
  })) as [SideChange, SideChange];
  const jet: Lift['jet'] = (x, y, out) => {
    const { heights, tilts } = y < 0 ? atLeft : atRight;
    const h = heights.at(x);
    const t = tilts.at(x);
    const k = [full * t[0], full * t[1], full * t[2]] as const;
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

/** A row of cells asks for one x again and again. */
function keepingLast(curve: Curve1): Curve1 {
  let last = Number.NaN;
  let value: ReturnType<Curve1['at']> = [0, 0, 0];
  return {
    at(x) {
      if (x !== last) {
        value = curve.at(x);
        last = x;
      }
      return value;
    },
  };
}
