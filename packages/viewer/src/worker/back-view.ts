import type { BackSurface, TriangleMesh } from '@barwright/geometry';
import type { BackView } from '../contract.ts';

/** More than this and the scan is drawn from its heights instead, so that it still turns smoothly. */
const MOST_TRIANGLES = 60_000;
const STEP_MM = 6;
const HALF_WIDTH_MM = 260;

export function viewBack(back: BackSurface, version: number, warnings: readonly string[]): BackView {
  const full = back.drawingMesh();
  const mesh = full.triangles.length / 3 > MOST_TRIANGLES ? heightNet(back, full) : full;
  const positions = Float32Array.from(mesh.positions);
  return {
    version,
    name: back.name,
    positions,
    normals: vertexNormals(mesh),
    triangles: mesh.triangles.slice(),
    landmarks: back.landmarks,
    usable: {
      fromXMm: Math.max(back.landmarks.bladeEdgeLeft[0], back.landmarks.bladeEdgeRight[0]),
      toXMm: back.landmarks.lastRib[0],
    },
    measured: back.measured,
    kind: back.kind,
    warnings,
    pointsMm: back.kind !== 'scan' ? null : mesh === full ? positions : Float32Array.from(full.positions),
  };
}

/** A net over the scan as seen from straight above; cells with a corner off the data are left open. */
function heightNet(back: BackSurface, full: TriangleMesh): TriangleMesh {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < full.positions.length; i += 3) {
    const x = full.positions[i]!;
    if (x < from) from = x;
    if (x > to) to = x;
  }
  const rows = Math.floor((to - from) / STEP_MM) + 1;
  const columns = Math.floor((2 * HALF_WIDTH_MM) / STEP_MM) + 1;
  const positions = new Float64Array(3 * rows * columns);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) {
      const x = from + i * STEP_MM;
      const y = j * STEP_MM - HALF_WIDTH_MM;
      positions.set([x, y, back.heightMm(x, y)], 3 * (i * columns + j));
    }
  }
  return dropOpen(positions, rows, columns);
}

function dropOpen(positions: Float64Array, rows: number, columns: number): TriangleMesh {
  const known = (k: number): boolean => !Number.isNaN(positions[3 * k + 2]!);
  const triangles: number[] = [];
  for (let i = 0; i + 1 < rows; i++) {
    for (let j = 0; j + 1 < columns; j++) {
      const a = i * columns + j;
      if (![a, a + 1, a + columns, a + columns + 1].every(known)) continue;
      triangles.push(a, a + columns, a + 1, a + 1, a + columns, a + columns + 1);
    }
  }
  for (let k = 2; k < positions.length; k += 3) if (Number.isNaN(positions[k]!)) positions[k] = 0;
  return { positions, triangles: Uint32Array.from(triangles) };
}

/** Weighted by area, upward. */
function vertexNormals({ positions: p, triangles }: TriangleMesh): Float32Array {
  const sum = new Float64Array(p.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t]!;
    const b = 3 * triangles[t + 1]!;
    const c = 3 * triangles[t + 2]!;
    const ux = p[b]! - p[a]!;
    const uy = p[b + 1]! - p[a + 1]!;
    const uz = p[b + 2]! - p[a + 2]!;
    const vx = p[c]! - p[a]!;
    const vy = p[c + 1]! - p[a + 1]!;
    const vz = p[c + 2]! - p[a + 2]!;
    for (let corner = 0; corner < 3; corner++) {
      const at = 3 * triangles[t + corner]!;
      sum[at]! += uy * vz - uz * vy;
      sum[at + 1]! += uz * vx - ux * vz;
      sum[at + 2]! += ux * vy - uy * vx;
    }
  }
  const out = new Float32Array(p.length);
  for (let k = 0; k < p.length; k += 3) {
    const size = Math.hypot(sum[k]!, sum[k + 1]!, sum[k + 2]!) || 1;
    for (let c = 0; c < 3; c++) out[k + c] = sum[k + c]! / size;
  }
  return out;
}
