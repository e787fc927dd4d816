import type { TriangleMesh } from '../surface/triangle-mesh.ts';

/** Edges up to this length count as a fine scan, mm. */
const FINE_EDGE_MM = 4;
/** Height error of a coarse scan above which it is rough and not merely faceted, mm. */
const LEAST_COARSE_NOISE_MM = 0.25;
/** Height error below which smoothing costs more than it mends (its bias at 2 mm is near 0.02 mm). */
const LEAST_NOISE_MM = 0.03;

/** Median edge length of the triangles, mm; 0 for an empty mesh. At most some 20,000 edges are looked at. */
export function medianEdgeMm(mesh: TriangleMesh): number {
  const { positions: p, triangles } = mesh;
  const stride = 3 * Math.max(1, Math.floor(triangles.length / 3 / 7000));
  const lengths: number[] = [];
  for (let t = 0; t + 2 < triangles.length; t += stride) {
    for (let k = 0; k < 3; k++) {
      const a = 3 * triangles[t + k];
      const b = 3 * triangles[t + ((k + 1) % 3)];
      lengths.push(Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]));
    }
  }
  return median(lengths);
}

/**
 * Standard deviation of the height noise of a grid, mm, from fourth differences along v at a spacing of `step` nodes:
 * a smooth back nearly vanishes from them, independent noise comes out multiplied by sqrt(70). Median, so robust.
 */
export function heightNoiseMm(heights: Float64Array, mask: Uint8Array, nv: number, step: number): number {
  const reach = 2 * step;
  const residues: number[] = [];
  for (let k = reach; k + reach < heights.length; k += 7) {
    const j = k % nv;
    if (j < reach || j >= nv - reach) continue;
    if ((mask[k - reach] & mask[k - step] & mask[k] & mask[k + step] & mask[k + reach]) === 0) continue;
    const outer = heights[k - reach] + heights[k + reach];
    residues.push(Math.abs(outer - 4 * (heights[k - step] + heights[k + step]) + 6 * heights[k]));
  }
  // 1.4826: median of |normal deviate| to standard deviation.
  return (1.4826 * median(residues)) / Math.sqrt(70);
}

/**
 * Standard deviation of the smoothing before a chart is made, mm: one and a half edges, at least 2 mm, where the height
 * noise is worth it. Fine scans (edges up to 4 mm) are smoothed from 0.03 mm of noise on, by 4 mm at most; coarse ones
 * from 0.25 mm on, by 15 mm at most, because a rough coarse surface has no one nearest point under a pad. Common sense
 * from the project's own measurements, no outside source.
 */
export function chooseSmoothingMm(edgeMm: number, noiseMm: number): number {
  const isFine = edgeMm <= FINE_EDGE_MM;
  if (noiseMm < (isFine ? LEAST_NOISE_MM : LEAST_COARSE_NOISE_MM)) return 0;
  return Math.min(isFine ? 4 : 15, Math.max(2, 1.5 * edgeMm));
}

function median(values: readonly number[]): number {
  // A typed array sorts numbers by itself, in a quarter of the time.
  return Float64Array.from(values).sort()[values.length >> 1] ?? 0;
}
