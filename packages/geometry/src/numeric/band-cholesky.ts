/** Lower half of a symmetric band matrix, row by row: entry (i, j), i - halfWidth <= j <= i, at i (halfWidth + 1) + j - i + halfWidth. */
export interface BandMatrix {
  readonly n: number;
  readonly halfWidth: number;
  readonly data: Float64Array;
}

export const createBand = (n: number, halfWidth: number): BandMatrix => ({
  n,
  halfWidth,
  data: new Float64Array(n * (halfWidth + 1)),
});

/** Adds to (i, j), j <= i; entries above the diagonal are the caller's not to add. */
export function addToBand({ halfWidth, data }: BandMatrix, i: number, j: number, value: number): void {
  data[i * (halfWidth + 1) + j - i + halfWidth]! += value;
}

/**
 * Factors A = L L^T in place (Cholesky by rows; Golub & Van Loan, Matrix Computations 4.3.5, from memory); false, with the matrix
 * spoiled, where a pivot is not positive.
 */
export function factorBand(matrix: BandMatrix): boolean {
  return factor(matrix.n, matrix.halfWidth, matrix.data);
}

/** Arrays and numbers only: this is where a flexible bar spends its time. Four columns share each pass over the row. */
function factor(n: number, w: number, a: Float64Array): boolean {
  const step = w + 1;
  for (let i = 0; i < n; i++) {
    const rowI = i * step + w - i;
    const from = Math.max(0, i - w);
    for (let j = from; j < i; j++) {
      const rowJ = j * step + w - j;
      let k = Math.max(from, j - w);
      let s0 = a[rowI + j]!;
      let s1 = 0;
      for (; k + 3 < j; k += 4) {
        s0 -= a[rowI + k]! * a[rowJ + k]! + a[rowI + k + 1]! * a[rowJ + k + 1]!;
        s1 -= a[rowI + k + 2]! * a[rowJ + k + 2]! + a[rowI + k + 3]! * a[rowJ + k + 3]!;
      }
      for (; k < j; k++) s0 -= a[rowI + k]! * a[rowJ + k]!;
      a[rowI + j] = (s0 + s1) * a[rowJ + j]!;
    }
    let pivot = a[rowI + i]!;
    for (let k = from; k < i; k++) pivot -= a[rowI + k]! * a[rowI + k]!;
    if (!(pivot > 0)) return false;
    // The diagonal is kept as its inverse, so that no row divides.
    a[rowI + i] = 1 / Math.sqrt(pivot);
  }
  return true;
}

/** Solves A x = b for a factored matrix, in place over `x`. */
export function solveBand({ n, halfWidth: w, data: a }: BandMatrix, x: Float64Array): void {
  const step = w + 1;
  for (let i = 0; i < n; i++) {
    const row = i * step + w - i;
    let sum = x[i]!;
    for (let k = Math.max(0, i - w); k < i; k++) sum -= a[row + k]! * x[k]!;
    x[i] = sum * a[row + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = i * step + w - i;
    const value = x[i]! * a[row + i]!;
    x[i] = value;
    for (let k = Math.max(0, i - w); k < i; k++) x[k]! -= a[row + k]! * value;
  }
}

/** out = A x for a matrix that is not factored. */
export function multiplyBand({ n, halfWidth: w, data: a }: BandMatrix, x: Float64Array, out: Float64Array): void {
  out.fill(0);
  const step = w + 1;
  for (let i = 0; i < n; i++) {
    const row = i * step + w - i;
    let sum = a[row + i]! * x[i]!;
    for (let k = Math.max(0, i - w); k < i; k++) {
      sum += a[row + k]! * x[k]!;
      out[k]! += a[row + k]! * x[i]!;
    }
    out[i]! += sum;
  }
}
