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
  // First pass along v at every fine row, coarse columns; weight and weighted height.
  const weight = new Float64Array(nu * mv);
  const sum = new Float64Array(nu * mv);
  for (let i = 0; i < nu; i++) {
    for (let j = 0; j < mv; j++) {
      const centre = j * stride;
      const end = Math.min(nv - 1, centre + reach);
      let total = 0;
      let mass = 0;
      for (let q = Math.max(0, centre - reach), k = i * nv + q; q <= end; q++, k++) {
        if (mask[k] === 0) continue;
        const g = kernel[q - centre + reach];
        mass += g;
        total += g * heights[k];
      }
      weight[i * mv + j] = mass;
      sum[i * mv + j] = total;
    }
  }
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
        mass += g * weight[q * mv + j];
        total += g * sum[q * mv + j];
      }
      coarse.heights[at] =
        mass > WHOLE_KERNEL ? total / mass : planeValue(heights, mask, nu, nv, centre, j * stride, kernel);
    }
  }
}

function gaussian(sigma: number): Float64Array {
  const reach = Math.ceil(REACH * sigma);
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sigma ** 2)),
  );
  const sum = kernel.reduce((a, b) => a + b);
  return kernel.map((g) => g / sum);
}

/** Value at node (i0, j0) of the weighted least-squares plane through the data under the kernel. */
function planeValue(
  heights: Float64Array,
  mask: Uint8Array,
  nu: number,
  nv: number,
  i0: number,
  j0: number,
  kernel: Float64Array,
): number {
  const reach = (kernel.length - 1) / 2;
  let m = 0;
  let mx = 0;
  let my = 0;
  let mxx = 0;
  let mxy = 0;
  let myy = 0;
  let h = 0;
  let hx = 0;
  let hy = 0;
  for (let i = Math.max(0, i0 - reach); i <= Math.min(nu - 1, i0 + reach); i++) {
    for (let j = Math.max(0, j0 - reach); j <= Math.min(nv - 1, j0 + reach); j++) {
      const k = i * nv + j;
      if (mask[k] === 0) continue;
      const g = kernel[i - i0 + reach] * kernel[j - j0 + reach];
      const x = i - i0;
      const y = j - j0;
      m += g;
      mx += g * x;
      my += g * y;
      mxx += g * x * x;
      mxy += g * x * y;
      myy += g * y * y;
      h += g * heights[k];
      hx += g * x * heights[k];
      hy += g * y * heights[k];
    }
  }
  // Cramer's rule on the normal equations; a lone row or node of data leaves only the mean.
  const a = mxx * myy - mxy * mxy;
  const b = mxy * my - mx * myy;
  const c = mx * mxy - mxx * my;
  const det = m * a + mx * b + my * c;
  if (!(det > 1e-6 * m * m * m)) return h / m;
  return (h * a + hx * b + hy * c) / det;
}
