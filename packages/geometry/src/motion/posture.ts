import { type BackSurface, type Lift, sumOfLifts } from '../back/index.ts';

/** How a back is held or has changed against the way it stood: what-ifs, all of them assumed. mm along z but where said. */
export interface Posture {
  /** + the middle of the back arched up, - dipped, most halfway between blade edge and last rib. */
  readonly archMm: number;
  /** Share of the bearing line's sag that is gone, percent: a back that flattens in motion. */
  readonly flattenPercent: number;
  /** Each side further out at the same height: muscle after work. */
  readonly widenMm: number;
  /** Slopes flatter by so many degrees, turning about the bearing line. */
  readonly flatterDeg: number;
}

export const STANDING_SQUARE: Posture = Object.freeze({
  archMm: 0,
  flattenPercent: 0,
  widenMm: 0,
  flatterDeg: 0,
});

const BEARING_Y_MM = 120;
/** The arch fades to nothing at this many usable lengths from its middle. */
const ARCH_REACH = 0.75;
/** The widening grows from the spine to here, where the muscle is full. */
const WIDEN_FROM_Y_MM = 20;
const WIDEN_TO_Y_MM = 100;
/** The opened roof's ridge is rounded over this, so that it has no kink at the spine. */
const RIDGE_MM = 30;

type JetOf = Lift['jet'];

/**
 * A back in another posture. Fields are our own choice, once continuously differentiable: an arch as a raised cosine
 * along the back, flattening as the bearing line's parabola taken down, widening as the outward step times the side's
 * mean slope, flatter slopes as a roof opened about the bearing line, its ridge rounded.
 */
export function holdPosture(back: BackSurface, posture: Posture): BackSurface {
  const lifts = [
    archLift(back, posture.archMm),
    flattenLift(back, posture.flattenPercent),
    widenLift(back, posture.widenMm),
    flatterLift(back, posture.flatterDeg),
  ];
  const wanted = lifts.filter((lift) => lift !== null);
  return wanted.length === 0 ? back : back.lifted(sumOfLifts(wanted));
}

function archLift({ landmarks }: BackSurface, byMm: number): Lift | null {
  if (byMm === 0) return null;
  const middle = landmarks.lastRib[0] / 2;
  const reach = ARCH_REACH * landmarks.lastRib[0];
  const w = Math.PI / reach;
  return alongOnly(middle - reach, middle + reach, (x) => {
    const phase = (x - middle) * w;
    return [
      (byMm * (1 + Math.cos(phase))) / 2,
      (-byMm * w * Math.sin(phase)) / 2,
      (-byMm * w * w * Math.cos(phase)) / 2,
    ];
  });
}

function flattenLift(back: BackSurface, percent: number): Lift | null {
  if (percent === 0) return null;
  const length = back.landmarks.lastRib[0];
  const line = (x: number): number => (back.heightMm(x, BEARING_Y_MM) + back.heightMm(x, -BEARING_Y_MM)) / 2;
  const sag = (line(0) + line(length)) / 2 - line(length / 2);
  if (!Number.isFinite(sag)) return null;
  const k = (-percent / 100) * ((4 * sag) / length ** 2);
  return alongOnly(Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY, (x) => {
    const from = x - length / 2;
    return [k * from * from, 2 * k * from, 2 * k];
  });
}

function alongOnly(fromXMm: number, toXMm: number, of: (x: number) => readonly [number, number, number]): Lift {
  const jet: JetOf = (x, _y, out) => {
    [out.z, out.zx, out.zxx] = of(x);
    out.zy = out.zxy = out.zyy = 0;
    return out;
  };
  return { fromXMm, toXMm, at: (x) => of(x)[0], jet };
}

function widenLift(back: BackSurface, byMm: number): Lift | null {
  if (byMm === 0) return null;
  const rise = { left: byMm * meanFall(back, -1), right: byMm * meanFall(back, 1) };
  const span = WIDEN_TO_Y_MM - WIDEN_FROM_Y_MM;
  const ramp = (absY: number): readonly [number, number, number] => {
    const t = Math.min(1, Math.max(0, (absY - WIDEN_FROM_Y_MM) / span));
    const w = Math.PI / span;
    const isInside = t > 0 && t < 1;
    return [
      (1 - Math.cos(Math.PI * t)) / 2,
      isInside ? (w * Math.sin(Math.PI * t)) / 2 : 0,
      isInside ? (w * w * Math.cos(Math.PI * t)) / 2 : 0,
    ];
  };
  const jet: JetOf = (_x, y, out) => {
    const h = y < 0 ? rise.left : rise.right;
    const [value, first, second] = ramp(Math.abs(y));
    out.z = h * value;
    out.zy = Math.sign(y) * h * first;
    out.zyy = h * second;
    out.zx = out.zxx = out.zxy = 0;
    return out;
  };
  const at = (_x: number, y: number): number => (y < 0 ? rise.left : rise.right) * ramp(Math.abs(y))[0];
  return { fromXMm: Number.NEGATIVE_INFINITY, toXMm: Number.POSITIVE_INFINITY, at, jet };
}

function flatterLift(back: BackSurface, byDeg: number): Lift | null {
  if (byDeg === 0) return null;
  const opened = (sign: 1 | -1): number => {
    const slope = Math.atan(meanFall(back, sign));
    return Math.tan(slope) - Math.tan(slope - (byDeg * Math.PI) / 180);
  };
  const gain = { left: opened(-1), right: opened(1) };
  const hinge = Math.hypot(BEARING_Y_MM, RIDGE_MM);
  const jet: JetOf = (_x, y, out) => {
    const k = y < 0 ? gain.left : gain.right;
    const run = Math.hypot(y, RIDGE_MM);
    out.z = k * (run - hinge);
    out.zy = (k * y) / run;
    out.zyy = (k * RIDGE_MM ** 2) / run ** 3;
    out.zx = out.zxx = out.zxy = 0;
    return out;
  };
  const at = (_x: number, y: number): number => (y < 0 ? gain.left : gain.right) * (Math.hypot(y, RIDGE_MM) - hinge);
  return { fromXMm: Number.NEGATIVE_INFINITY, toXMm: Number.POSITIVE_INFINITY, at, jet };
}

/** Mean fall of one side over its run between the muscle's crest and its flank, along the usable length: tan of slope. */
function meanFall(back: BackSurface, sign: 1 | -1): number {
  let fall = 0;
  let count = 0;
  for (let i = 0; i <= 10; i++) {
    const x = (back.landmarks.lastRib[0] * i) / 10;
    const drop = (back.heightMm(x, sign * 60) - back.heightMm(x, sign * 180)) / 120;
    if (Number.isNaN(drop)) continue;
    fall += drop;
    count++;
  }
  return count === 0 ? 0 : fall / count;
}
