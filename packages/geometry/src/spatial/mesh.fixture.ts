import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { mulberry32 } from './seeded.fixture.ts';

/**
 * A sheet of triangles over a jittered grid, wound to face up, for tests. `hole` leaves out triangles whose centre it
 * holds; `noiseMm` is the standard deviation of a height error (sum of twelve uniform numbers).
 */
export function heightMesh(
  height: (x: number, y: number) => number,
  xRange: readonly [number, number],
  yRange: readonly [number, number],
  spacing: number,
  seed: number,
  hole: (x: number, y: number) => boolean = () => false,
  noiseMm = 0,
): TriangleMesh {
  const random = mulberry32(seed);
  const nx = Math.round((xRange[1] - xRange[0]) / spacing);
  const ny = Math.round((yRange[1] - yRange[0]) / spacing);
  const positions = new Float64Array(3 * (nx + 1) * (ny + 1));
  for (let i = 0, at = 0; i <= nx; i++) {
    for (let j = 0; j <= ny; j++, at += 3) {
      const inner = i > 0 && i < nx && j > 0 && j < ny ? 0.5 * spacing : 0;
      positions[at] = xRange[0] + i * spacing + inner * (random() - 0.5);
      positions[at + 1] = yRange[0] + j * spacing + inner * (random() - 0.5);
      let error = 0;
      if (noiseMm > 0) for (let k = 0; k < 12; k++) error += random() - 0.5;
      positions[at + 2] = height(positions[at], positions[at + 1]) + noiseMm * error;
    }
  }
  const triangles: number[] = [];
  const add = (a: number, b: number, c: number) => {
    const x = (positions[3 * a] + positions[3 * b] + positions[3 * c]) / 3;
    const y = (positions[3 * a + 1] + positions[3 * b + 1] + positions[3 * c + 1]) / 3;
    if (!hole(x, y)) triangles.push(a, b, c);
  };
  for (let i = 0; i < nx; i++) {
    for (let j = 0; j < ny; j++) {
      const a = i * (ny + 1) + j;
      const b = a + ny + 1;
      if (random() < 0.5) {
        add(a, b, b + 1);
        add(a, b + 1, a + 1);
      } else {
        add(a, b, a + 1);
        add(b, b + 1, a + 1);
      }
    }
  }
  return { positions, triangles: Uint32Array.from(triangles) };
}
