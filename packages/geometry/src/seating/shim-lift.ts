import { type BackSurface, createSurfaceJet, type Lift, sumOfLifts } from '../back/index.ts';
import type { ShimShape } from '../bar/index.ts';
import {
  createSplineBasis,
  createSplineRow,
  evaluateSplines,
  plateau,
  SPLINE_ORDER,
  type SplineBasis,
} from '../numeric/index.ts';

/** The back's steepness is taken about this often, and from heights this far apart on either side. mm */
const SPACING_MM = 20;
const STEP_MM = 3;

/**
 * What a shim adds to a horse's back along z: thickness / cos(slope of the back at the place), so that it is as thick square
 * to the back. The slope is smoothed over about 20 mm (splines with the samples as coefficients: Schoenberg's
 * approximation, from memory). null without shims.
 */
export function shimLift(
  back: Pick<BackSurface, 'heightMm'>,
  shims: readonly { readonly shape: ShimShape; readonly side: 'left' | 'right' }[],
): Lift | null {
  if (shims.length === 0) return null;
  return sumOfLifts(shims.map(({ shape, side }) => oneLift(back, shape, side === 'left' ? -1 : 1)));
}

function oneLift(back: Pick<BackSurface, 'heightMm'>, shape: ShimShape, sign: 1 | -1): Lift {
  const { fromMm, toMm, innerMm, outerMm, thicknessMm, rampMm } = shape;
  const share = uprightShare(back, shape, sign);
  const jet = createSurfaceJet();
  const k = createSurfaceJet();
  return {
    fromXMm: fromMm,
    toXMm: toMm,
    at(x, y) {
      return this.jet(x, y, jet).z;
    },
    jet(x, y, out) {
      out.z = out.zx = out.zy = out.zxx = out.zxy = out.zyy = 0;
      const outward = sign * y;
      if (outward <= innerMm || outward >= outerMm || x <= fromMm || x >= toMm) return out;
      const [a, a1, a2] = plateau(x, fromMm + rampMm, toMm - rampMm, rampMm);
      const [c, c1, c2] = plateau(outward, innerMm + rampMm, outerMm - rampMm, rampMm);
      share(x, outward, k);
      const h = thicknessMm;
      out.z = h * a * c * k.z;
      out.zx = h * c * (a1 * k.z + a * k.zx);
      out.zy = sign * h * a * (c1 * k.z + c * k.zy);
      out.zxx = h * c * (a2 * k.z + 2 * a1 * k.zx + a * k.zxx);
      out.zyy = h * a * (c2 * k.z + 2 * c1 * k.zy + c * k.zyy);
      out.zxy = sign * h * (a1 * c1 * k.z + a1 * c * k.zy + a * c1 * k.zx + a * c * k.zxy);
      return out;
    },
  };
}

type Share = (x: number, outward: number, out: ReturnType<typeof createSurfaceJet>) => void;

/** 1 / cos(slope) over the shim as a smooth surface with its derivatives. */
function uprightShare(back: Pick<BackSurface, 'heightMm'>, shape: ShimShape, sign: 1 | -1): Share {
  const along = basisOver(shape.fromMm, shape.toMm);
  const across = basisOver(shape.innerMm, shape.outerMm);
  const steep = (x: number, outward: number): number => {
    const rise = (dx: number, dy: number): number => back.heightMm(x + dx, sign * outward + dy);
    const zx = (rise(STEP_MM, 0) - rise(-STEP_MM, 0)) / (2 * STEP_MM);
    const zy = (rise(0, STEP_MM) - rise(0, -STEP_MM)) / (2 * STEP_MM);
    return Math.hypot(1, zx, zy);
  };
  const places = sites(across);
  const grid = filled(
    sites(along).map((x) => filledRow(places.map((y) => steep(x, y)))),
    places.length,
  );
  const [ra, rc] = [createSplineRow(), createSplineRow()];
  const sum = (na: Float64Array, nc: Float64Array): number => {
    let total = 0;
    for (let i = 0; i < SPLINE_ORDER; i++) {
      for (let j = 0; j < SPLINE_ORDER; j++) total += na[i]! * nc[j]! * grid[ra.first + i]![rc.first + j]!;
    }
    return total;
  };
  return (x, outward, out) => {
    evaluateSplines(along, x, ra);
    evaluateSplines(across, outward, rc);
    out.z = sum(ra.value, rc.value);
    out.zx = sum(ra.slope, rc.value);
    out.zy = sum(ra.value, rc.slope);
    out.zxx = sum(ra.bend, rc.value);
    out.zxy = sum(ra.slope, rc.slope);
    out.zyy = sum(ra.value, rc.bend);
  };
}

function basisOver(from: number, to: number): SplineBasis {
  const pieces = Math.max(1, Math.ceil((to - from) / SPACING_MM));
  return createSplineBasis(Array.from({ length: pieces + 1 }, (_, i) => from + ((to - from) * i) / pieces));
}

/** Means of the inner knots (Greville): with the values there as coefficients, straight lines come out exact. */
const sites = ({ knots, count }: SplineBasis): number[] =>
  Array.from({ length: count }, (_, i) => (knots[i + 1]! + knots[i + 2]! + knots[i + 3]!) / 3);

/** Beyond the back's data the nearest known value goes on; null where the row has none. */
function filledRow(row: number[]): number[] | null {
  const known = row.flatMap((value, i) => (Number.isNaN(value) ? [] : [i]));
  if (known.length === 0) return null;
  return row.map((_, i) => row[nearest(known, i)]!);
}

/** Rows without any data take the nearest row that has some; a shim wholly off the data counts as lying level. */
function filled(rows: (number[] | null)[], columns: number): number[][] {
  const known = rows.flatMap((row, i) => (row === null ? [] : [i]));
  if (known.length === 0) return rows.map(() => new Array<number>(columns).fill(1));
  return rows.map((_, i) => rows[nearest(known, i)]!);
}

const nearest = (known: readonly number[], i: number): number =>
  known.reduce((best, k) => (Math.abs(k - i) < Math.abs(best - i) ? k : best));
