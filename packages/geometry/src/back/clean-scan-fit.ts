/** A local frame: origin, two tangents and the normal, 3 numbers each. */
export type LocalFrame = Float64Array;

/** Least squares of h = c0 + c1 u + c2 v + c3 u^2 + c4 u v + c5 v^2; reused for millions of small fits. */
export interface QuadraticFit {
  clear(): void;
  add(u: number, v: number, h: number, weight: number): void;
  /** Six coefficients, owned by the fit; null when the points do not determine them. */
  solve(): Float64Array | null;
  /** After solve: variance of the fitted height at u = v = 0 over that of one point. */
  originVariance(): number;
}

const N = 6;

export function createQuadraticFit(): QuadraticFit {
  const normal = new Float64Array(N * N);
  const right = new Float64Array(N);
  const row = new Float64Array(N);
  return {
    clear() {
      normal.fill(0);
      right.fill(0);
    },
    add(u, v, h, weight) {
      row[0] = 1;
      row[1] = u;
      row[2] = v;
      row[3] = u * u;
      row[4] = u * v;
      row[5] = v * v;
      for (let i = 0; i < N; i++) {
        right[i] += weight * row[i] * h;
        for (let j = 0; j <= i; j++) normal[N * i + j] += weight * row[i] * row[j];
      }
    },
    solve: () => (factor(normal) ? substitute(normal, right) : null),
    originVariance() {
      let sum = 0;
      row.fill(0);
      row[0] = 1;
      for (let i = 0; i < N; i++) {
        for (let k = 0; k < i; k++) row[i] -= normal[N * i + k] * row[k];
        row[i] /= normal[N * i + i];
        sum += row[i] * row[i];
      }
      return sum;
    },
  };
}

/** Cholesky in place on the lower half; false where a pivot vanishes against its diagonal. */
function factor(m: Float64Array): boolean {
  for (let i = 0; i < N; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = m[N * i + j];
      for (let k = 0; k < j; k++) sum -= m[N * i + k] * m[N * j + k];
      if (i !== j) m[N * i + j] = sum / m[N * j + j];
      else if (sum > 1e-10 * m[N * i + i]) m[N * i + i] = Math.sqrt(sum);
      else return false;
    }
  }
  return true;
}

function substitute(l: Float64Array, x: Float64Array): Float64Array {
  for (let i = 0; i < N; i++) {
    for (let k = 0; k < i; k++) x[i] -= l[N * i + k] * x[k];
    x[i] /= l[N * i + i];
  }
  for (let i = N - 1; i >= 0; i--) {
    for (let k = i + 1; k < N; k++) x[i] -= l[N * k + i] * x[k];
    x[i] /= l[N * i + i];
  }
  return x;
}

/** Fills a frame at a point with a unit normal. */
export function frameAt(frame: LocalFrame, p: ArrayLike<number>, at: number, n: ArrayLike<number>, nAt: number): void {
  const [nx, ny, nz] = [n[nAt], n[nAt + 1], n[nAt + 2]];
  // A tangent from the axis least along the normal.
  const [ax, ay, az] = Math.abs(nx) < 0.6 ? [1, 0, 0] : Math.abs(ny) < 0.6 ? [0, 1, 0] : [0, 0, 1];
  const along = ax * nx + ay * ny + az * nz;
  let [tx, ty, tz] = [ax - along * nx, ay - along * ny, az - along * nz];
  const length = Math.hypot(tx, ty, tz);
  tx /= length;
  ty /= length;
  tz /= length;
  const [bx, by, bz] = [ny * tz - nz * ty, nz * tx - nx * tz, nx * ty - ny * tx];
  frame.set([p[at], p[at + 1], p[at + 2], tx, ty, tz, bx, by, bz, nx, ny, nz]);
}

/** A point in a frame: u, v and height, into `out`. */
export function intoLocal(frame: LocalFrame, p: ArrayLike<number>, at: number, out: Float64Array): void {
  const x = p[at] - frame[0];
  const y = p[at + 1] - frame[1];
  const z = p[at + 2] - frame[2];
  out[0] = frame[3] * x + frame[4] * y + frame[5] * z;
  out[1] = frame[6] * x + frame[7] * y + frame[8] * z;
  out[2] = frame[9] * x + frame[10] * y + frame[11] * z;
}
