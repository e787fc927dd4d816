/** Kernel half width in standard deviations: what is cut off weighs 6e-5. */
const REACH = 4;
/** Nodes with less of the kernel over data than this get a local plane instead of a plain mean. */
const WHOLE_KERNEL = 1 - 1e-9;

/**
 * Gaussian smoothing of a masked grid, taken at every `stride`-th node: heights over data only, so that a hole neither
 * fills nor pulls. Near a rim, where the weights lean to one side, the value is that of the weighted least-squares plane,
 * which keeps slopes unbiased.
 *
 * `heights` and `mask` are nu x nv, row-major; `sigma` in nodes, 0 = take the nodes as they are.
 * Returns the coarse grid, ceil(nu / stride) x ceil(nv / stride); its mask is the fine mask at the same nodes.
 */
export function smoothGrid(
  heights: Float64Array,
  mask: Uint8Array,
  nu: number,
  nv: number,
  sigma: number,
  stride: number,
): { heights: Float64Array; mask: Uint8Array; nu: number; nv: number } {
  const mu = Math.ceil(nu / stride);
  const mv = Math.ceil(nv / stride);
  const coarse = { heights: new Float64Array(mu * mv), mask: new Uint8Array(mu * mv), nu: mu, nv: mv };
  for (let i = 0; i < mu; i++) {
    for (let j = 0; j < mv; j++) {
      const k = i * stride * nv + j * stride;
      coarse.mask[i * mv + j] = mask[k];
      coarse.heights[i * mv + j] = mask[k] === 1 ? heights[k] : 0;
    }
  }
  if (sigma > 0) smoothInto(coarse, heights, mask, nu, nv, sigma, stride);
  return coarse;
}

function smoothInto(
  coarse: { heights: Float64Array; mask: Uint8Array; nu: number; nv: number },
  heights: Float64Array,
  mask: Uint8Array,
  nu: number,
  nv: number,
  sigma: number,
  stride: number,
): void {
  const kernel = gaussian(sigma);
  const reach = (kernel.length - 1) / 2;
  const { nu: mu, nv: mv } = coarse;
  const across = acrossRows(heights, mask, nu, nv, mv, stride, kernel);
  const sums = new Float64Array(9);
  for (let i = 0; i < mu; i++) {
    const centre = i * stride;
    const start = Math.max(0, centre - reach);
    const end = Math.min(nu - 1, centre + reach);
    for (let j = 0; j < mv; j++) {
      const at = i * mv + j;
      if (coarse.mask[at] === 0) continue;
      let total = 0;
      let mass = 0;
      for (let q = start; q <= end; q++) {
        const g = kernel[q - centre + reach];
        mass += g * across.m[q * mv + j];
        total += g * across.h[q * mv + j];
      }
      coarse.heights[at] =
        mass > WHOLE_KERNEL ? total / mass : planeValue(momentsAt(across, mv, j, centre, start, end, kernel, sums));
    }
  }
}

/** Of every fine row, about each coarse column: kernel-weighted sums of 1, y, y^2, height and y times height over data. */
interface RowSums {
  readonly m: Float64Array;
  readonly my: Float64Array;
  readonly myy: Float64Array;
  readonly h: Float64Array;
  readonly hy: Float64Array;
}

function acrossRows(
  heights: Float64Array,
  mask: Uint8Array,
  nu: number,
  nv: number,
  mv: number,
  stride: number,
  kernel: Float64Array,
): RowSums {
  const reach = (kernel.length - 1) / 2;
  const [m, my, myy, h, hy] = Array.from({ length: 5 }, () => new Float64Array(nu * mv));
  for (let i = 0; i < nu; i++) {
    for (let j = 0; j < mv; j++) {
      const centre = j * stride;
      const end = Math.min(nv - 1, centre + reach);
      const at = i * mv + j;
      for (let q = Math.max(0, centre - reach), k = i * nv + q; q <= end; q++, k++) {
        if (mask[k] === 0) continue;
        const y = q - centre;
        const g = kernel[y + reach];
        const gh = g * heights[k];
        m[at] += g;
        my[at] += g * y;
        myy[at] += g * y * y;
        h[at] += gh;
        hy[at] += gh * y;
      }
    }
  }
  return { m, my, myy, h, hy };
}

/** Sums of 1, x, y, x^2, xy, y^2, height, x height and y height under the whole kernel, written to `out`. */
function momentsAt(
  { m, my, myy, h, hy }: RowSums,
  mv: number,
  j: number,
  centre: number,
  start: number,
  end: number,
  kernel: Float64Array,
  out: Float64Array,
): Float64Array {
  const reach = (kernel.length - 1) / 2;
  out.fill(0);
  for (let q = start; q <= end; q++) {
    const x = q - centre;
    const g = kernel[x + reach];
    const k = q * mv + j;
    out[0] += g * m[k];
    out[1] += g * x * m[k];
    out[2] += g * my[k];
    out[3] += g * x * x * m[k];
    out[4] += g * x * my[k];
    out[5] += g * myy[k];
    out[6] += g * h[k];
    out[7] += g * x * h[k];
    out[8] += g * hy[k];
  }
  return out;
}

function gaussian(sigma: number): Float64Array {
  const reach = Math.ceil(REACH * sigma);
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sigma ** 2)),
  );
  const sum = kernel.reduce((a, b) => a + b);
  return kernel.map((g) => g / sum);
}

/** Value at the middle of the weighted least-squares plane through the data under the kernel. */
function planeValue([m, mx, my, mxx, mxy, myy, h, hx, hy]: Float64Array): number {
  // Cramer's rule on the normal equations; a lone row or node of data leaves only the mean.
  const a = mxx * myy - mxy * mxy;
  const b = mxy * my - mx * myy;
  const c = mx * mxy - mxx * my;
  const det = m * a + mx * b + my * c;
  if (!(det > 1e-6 * m * m * m)) return h / m;
  return (h * a + hx * b + hy * c) / det;
}
