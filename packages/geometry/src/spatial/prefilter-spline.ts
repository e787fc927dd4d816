/**
 * Coefficients of the quadratic B-spline that takes the given values at its nodes, in both directions of a grid.
 *
 * Along a line the values are f_i = (c_{i-1} + 6 c_i + c_{i+1}) / 8 (pole sqrt(8) - 3; Unser, Aldroubi & Eden 1993,
 * from memory). Beyond both ends the line is continued point-mirrored, c_{-k} = 2 c_0 - c_k, which gives c_0 = f_0 and
 * reproduces planes exactly; a plain mirror would press a zero slope on the rim.
 *
 * `values` is nu x nv, row-major (row = constant u), and is overwritten.
 */
export function prefilterSpline(values: Float64Array, nu: number, nv: number): Float64Array {
  prefilterLines(values, nu, nv, nv, 1);
  prefilterLines(values, nv, nu, 1, nv);
  return values;
}

/** Thomas sweep over `count` lines of `length` nodes at once; the pivots run to 3 - sqrt(8) within a few nodes. */
function prefilterLines(c: Float64Array, lines: number, length: number, lineStride: number, stride: number): void {
  if (length < 3) return;
  const pivot = pivots(length);
  for (let l = 0; l < lines; l++) {
    const base = l * lineStride;
    for (let i = 1, k = base + stride; i < length - 1; i++, k += stride) {
      c[k] = (8 * c[k] - c[k - stride]) * pivot[i];
    }
    for (let i = length - 2, k = base + i * stride; i >= 1; i--, k -= stride) {
      c[k] -= pivot[i] * c[k + stride];
    }
  }
}

function pivots(length: number): Float64Array {
  const pivot = new Float64Array(length);
  pivot[1] = 1 / 6;
  for (let i = 2; i < length - 1; i++) pivot[i] = 1 / (6 - pivot[i - 1]);
  return pivot;
}
