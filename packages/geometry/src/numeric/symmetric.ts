/** Symmetric dense matrices of a few rows, row-major in a flat array (n x n). */

/** Eigenvalues in rising order, by cyclic Jacobi rotations (Golub & Van Loan, Matrix Computations 8.5, from memory). */
export function symmetricEigenvalues(matrix: ArrayLike<number>, n: number): number[] {
  return symmetricEigen(matrix, n).values;
}

/** Eigenvalues in rising order and the matching unit vectors as rows. */
export function symmetricEigen(matrix: ArrayLike<number>, n: number): { values: number[]; vectors: number[][] } {
  const a = Array.from({ length: n * n }, (_, i) => matrix[i]!);
  const v = Array.from({ length: n * n }, (_, i) => (i % (n + 1) === 0 ? 1 : 0));
  for (let sweep = 0; sweep < 60 && offDiagonal(a, n) > 0; sweep++) {
    for (let p = 0; p < n - 1; p++) for (let q = p + 1; q < n; q++) rotate(a, v, n, p, q);
  }
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => a[i * n + i]! - a[j * n + j]!);
  return {
    values: order.map((i) => a[i * n + i]!),
    vectors: order.map((i) => Array.from({ length: n }, (_, k) => v[k * n + i]!)),
  };
}

function offDiagonal(a: readonly number[], n: number): number {
  let sum = 0;
  let scale = 0;
  for (let i = 0; i < n; i++) {
    scale += a[i * n + i]! ** 2;
    for (let j = 0; j < n; j++) if (i !== j) sum += a[i * n + j]! ** 2;
  }
  return sum > 1e-30 * (scale + sum) ? sum : 0;
}

function rotate(a: number[], v: number[], n: number, p: number, q: number): void {
  const apq = a[p * n + q]!;
  if (apq === 0) return;
  const theta = (a[q * n + q]! - a[p * n + p]!) / (2 * apq);
  const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  for (let k = 0; k < n; k++) {
    const akp = a[k * n + p]!;
    const akq = a[k * n + q]!;
    a[k * n + p] = c * akp - s * akq;
    a[k * n + q] = s * akp + c * akq;
  }
  for (let k = 0; k < n; k++) {
    const apk = a[p * n + k]!;
    const aqk = a[q * n + k]!;
    a[p * n + k] = c * apk - s * aqk;
    a[q * n + k] = s * apk + c * aqk;
    const vkp = v[k * n + p]!;
    const vkq = v[k * n + q]!;
    v[k * n + p] = c * vkp - s * vkq;
    v[k * n + q] = s * vkp + c * vkq;
  }
}

/**
 * Newton step for a symmetric system: solves H s = -g with every eigenvalue replaced by max(|eigenvalue|, floor),
 * so the step always goes downhill. Plain Newton where H is positive definite.
 */
export function downhillStep(h: ArrayLike<number>, g: ArrayLike<number>, n: number, floor: number): number[] {
  const { values, vectors } = symmetricEigen(h, n);
  const step = new Array<number>(n).fill(0);
  for (let k = 0; k < n; k++) {
    const vector = vectors[k]!;
    let along = 0;
    for (let i = 0; i < n; i++) along += vector[i]! * g[i]!;
    const scaled = -along / Math.max(Math.abs(values[k]!), floor);
    for (let i = 0; i < n; i++) step[i]! += scaled * vector[i]!;
  }
  return step;
}
