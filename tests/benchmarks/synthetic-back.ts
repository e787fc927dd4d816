import { seededRandom } from '../../packages/geometry/src/numeric/index.ts';
import type { TriangleMesh } from '../../packages/geometry/src/surface/triangle-mesh.ts';

/** Height of an invented saddle-shaped back: a ridge falling to about 46 degrees, withers, relief of 70-250 mm waves. */
export function backHeight(x: number, y: number): number {
  const across = y / 180;
  const ridge = -150 * (Math.sqrt(1 + across * across * 1.4) - 1);
  const along = 0.00022 * (x - 380) ** 2;
  const withers = 35 * Math.exp(-(((x - 60) / 110) ** 2) - (y / 70) ** 2);
  const relief =
    1.6 * Math.sin(x / 39.8 + 0.3) * Math.cos(y / 33) +
    1.3 * Math.sin((x + 0.7 * y) / 25) +
    1.1 * Math.cos((x - 1.3 * y) / 17);
  return ridge + along + withers + relief;
}

/** 700 x 500 mm of that back as about `triangles` irregular triangles; heights with Gaussian noise of `noiseMm`. */
export function syntheticBack(triangles: number, noiseMm = 0, seed = 20261): TriangleMesh {
  const random = seededRandom(seed);
  const spacing = Math.sqrt((700 * 500 * 2) / triangles);
  const nx = Math.round(700 / spacing);
  const ny = Math.round(500 / spacing);
  const positions = new Float64Array(3 * (nx + 1) * (ny + 1));
  const faces = new Uint32Array(6 * nx * ny);
  for (let i = 0, v = 0, f = 0; i <= nx; i++) {
    for (let j = 0; j <= ny; j++, v++) {
      const rim = i === 0 || j === 0 || i === nx || j === ny;
      const x = (700 * i) / nx + (rim ? 0 : 0.5 * spacing * (random() - 0.5));
      const y = -250 + (500 * j) / ny + (rim ? 0 : 0.5 * spacing * (random() - 0.5));
      const noise = noiseMm * Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
      positions.set([x, y, backHeight(x, y) + noise], 3 * v);
      if (i === nx || j === ny) continue;
      const far = v + ny + 1;
      if ((i + j) % 2 === 0) faces.set([v, far, far + 1, v, far + 1, v + 1], f);
      else faces.set([v, far, v + 1, v + 1, far, far + 1], f);
      f += 6;
    }
  }
  return { positions, triangles: faces };
}

/** Two bars of 100 x 50 points, 560 x 140 mm, lying 0 ... 17 mm off the back: left first, then right. */
export function barPoints(seed = 7): Float64Array {
  const random = seededRandom(seed);
  const points = new Float64Array(3 * 10_000);
  for (let k = 0; k < 10_000; k++) {
    const cell = k % 5000;
    const x = 70 + (560 * (Math.floor(cell / 50) + 0.5)) / 100;
    const y = (k < 5000 ? -1 : 1) * (50 + (140 * ((cell % 50) + 0.5)) / 50);
    const h = 0.5;
    const zx = (backHeight(x + h, y) - backHeight(x - h, y)) / (2 * h);
    const zy = (backHeight(x, y + h) - backHeight(x, y - h)) / (2 * h);
    const off = (17 * random()) / Math.sqrt(1 + zx * zx + zy * zy);
    points.set([x - off * zx, y - off * zy, backHeight(x, y) + off], 3 * k);
  }
  return points;
}
