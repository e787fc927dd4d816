/** Cubic B-splines on a clamped knot vector; a break named twice is one where curvature may jump (C1 there). */
export interface SplineBasis {
  readonly knots: Float64Array;
  /** Number of basis functions. */
  readonly count: number;
  /** Ends of the pieces, rising: where quadrature has to be cut. */
  readonly breaks: readonly number[];
}

const DEGREE = 3;
/** Basis functions that are not zero at a place. */
export const SPLINE_ORDER = DEGREE + 1;

/**
 * The basis over rising breaks. `kinks` are the breaks with a jump of the second derivative.
 * @throws RangeError for fewer than two breaks or breaks that do not rise
 */
export function createSplineBasis(breaks: readonly number[], kinks: readonly number[] = []): SplineBasis {
  if (breaks.length < 2) throw new RangeError('createSplineBasis: needs at least two breaks');
  const inner = breaks.slice(1, -1).flatMap((at) => (kinks.includes(at) ? [at, at] : [at]));
  const [first, last] = [breaks[0]!, breaks[breaks.length - 1]!];
  const ends = (at: number): number[] => new Array<number>(SPLINE_ORDER).fill(at);
  for (let i = 1; i < breaks.length; i++) {
    if (!(breaks[i]! > breaks[i - 1]!)) throw new RangeError('createSplineBasis: breaks must rise');
  }
  const knots = Float64Array.from([...ends(first), ...inner, ...ends(last)]);
  return { knots, count: knots.length - SPLINE_ORDER, breaks };
}

/** Room for one place's values: the four functions, their first and second derivatives. */
export interface SplineRow {
  /** Index of the first function that is not zero there. */
  first: number;
  readonly value: Float64Array;
  readonly slope: Float64Array;
  readonly bend: Float64Array;
}

export const createSplineRow = (): SplineRow => ({
  first: 0,
  value: new Float64Array(SPLINE_ORDER),
  slope: new Float64Array(SPLINE_ORDER),
  bend: new Float64Array(SPLINE_ORDER),
});

/** Functions of degree 1 at 0, of degree 2 at 4, of degree 3 at 8: room that every call uses anew. */
const levels = new Float64Array(12);

/**
 * Values and derivatives at x (held to the range), by the recursion of Cox and de Boor (Piegl & Tiller, The NURBS Book
 * 2.2-2.3, from memory). Fills and returns `out`.
 */
export function evaluateSplines({ knots, count }: SplineBasis, x: number, out: SplineRow): SplineRow {
  const at = Math.min(Math.max(x, knots[DEGREE]!), knots[count]!);
  let span = DEGREE;
  while (span < count - 1 && at >= knots[span + 1]!) span++;
  out.first = span - DEGREE;
  for (let p = 1; p <= DEGREE; p++) {
    const [into, from] = [4 * (p - 1), 4 * (p - 2)];
    for (let r = 0; r <= p; r++) {
      const i = span - p + r;
      const left = r === 0 ? 0 : p === 1 ? 1 : levels[from + r - 1]!;
      const right = r === p ? 0 : p === 1 ? 1 : levels[from + r]!;
      levels[into + r] =
        part(at - knots[i]!, knots[i + p]! - knots[i]!) * left +
        part(knots[i + p + 1]! - at, knots[i + p + 1]! - knots[i + 1]!) * right;
    }
  }
  for (let r = 0; r <= DEGREE; r++) {
    const i = span - DEGREE + r;
    const [left, right] = [r === 0 ? 0 : levels[3 + r]!, r === DEGREE ? 0 : levels[4 + r]!];
    out.value[r] = levels[8 + r]!;
    out.slope[r] = DEGREE * difference(knots, i, DEGREE, left, right);
    out.bend[r] = DEGREE * difference(knots, i, DEGREE, secondOf(knots, span, r - 1), secondOf(knots, span, r));
  }
  return out;
}

/** Derivative of the r-th quadratic function of the span, from the linear ones. */
function secondOf(knots: Float64Array, span: number, r: number): number {
  if (r < 0 || r > 2) return 0;
  return 2 * difference(knots, span - 2 + r, 2, r === 0 ? 0 : levels[r - 1]!, r === 2 ? 0 : levels[r]!);
}

function difference(knots: Float64Array, i: number, p: number, left: number, right: number): number {
  return part(left, knots[i + p]! - knots[i]!) - part(right, knots[i + p + 1]! - knots[i + 1]!);
}

/** 0 where a knot interval is empty, as the recursion wants it. */
const part = (a: number, b: number): number => (b > 0 ? a / b : 0);
