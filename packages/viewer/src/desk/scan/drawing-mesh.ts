import type { TriangleMesh } from '@barwright/geometry';

/** A surface for the eye: coordinates of the file less `centre`, single precision. */
export interface DrawnMesh {
  readonly centre: readonly [number, number, number];
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly triangles: Uint32Array;
}

/** About as many triangles as turn smoothly on a laptop without a graphics card. */
export const DRAWN_TRIANGLES = 60_000;

/**
 * A mesh thinned for drawing: vertices in one cell of a grid become their mean, triangles that collapse are left out. A mesh
 * that is small enough keeps all of its own vertices. For the eye only; nothing is measured on it.
 */
export function drawnMesh(
  { positions, triangles }: TriangleMesh,
  centre: readonly [number, number, number],
  most = DRAWN_TRIANGLES,
): DrawnMesh {
  const cell = triangles.length / 3 <= most ? 0 : Math.sqrt((2 * areaOf(positions, triangles)) / most);
  const thin = cell > 0 ? clustered(positions, triangles, cell) : onlyUsed(positions, triangles);
  const drawn = new Float32Array(thin.positions.length);
  for (let i = 0; i < drawn.length; i++) drawn[i] = thin.positions[i]! - centre[i % 3]!;
  return { centre, positions: drawn, normals: normalsOf(drawn, thin.triangles), triangles: thin.triangles };
}

/** Middle of the box round all points that a triangle uses; of a cloud, round all points. */
export function middleOf({ positions, triangles }: TriangleMesh): [number, number, number] {
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const high = low.map((value) => -value);
  const count = triangles.length > 0 ? triangles.length : positions.length / 3;
  for (let h = 0; h < count; h++)
    for (let k = 0; k < 3; k++) {
      const value = positions[3 * (triangles[h] ?? h) + k]!;
      if (value < low[k]!) low[k] = value;
      if (value > high[k]!) high[k] = value;
    }
  return [0, 1, 2].map((k) => (low[k]! + high[k]!) / 2) as [number, number, number];
}

function areaOf(p: Float64Array, triangles: Uint32Array): number {
  let doubled = 0;
  const n = [0, 0, 0];
  for (let t = 0; t < triangles.length; t += 3) {
    crossOf(p, triangles, t, n);
    doubled += Math.hypot(n[0]!, n[1]!, n[2]!);
  }
  return doubled / 2;
}

function crossOf(p: ArrayLike<number>, triangles: Uint32Array, t: number, out: number[]): void {
  const [a, b, c] = [3 * triangles[t]!, 3 * triangles[t + 1]!, 3 * triangles[t + 2]!];
  const [ux, uy, uz] = [p[b]! - p[a]!, p[b + 1]! - p[a + 1]!, p[b + 2]! - p[a + 2]!];
  const [vx, vy, vz] = [p[c]! - p[a]!, p[c + 1]! - p[a + 1]!, p[c + 2]! - p[a + 2]!];
  out[0] = uy * vz - uz * vy;
  out[1] = uz * vx - ux * vz;
  out[2] = ux * vy - uy * vx;
}

function onlyUsed(positions: Float64Array, triangles: Uint32Array): TriangleMesh {
  const numberOf = new Int32Array(positions.length / 3).fill(-1);
  const kept: number[] = [];
  const renamed = triangles.map((vertex) => {
    if (numberOf[vertex] === -1) {
      numberOf[vertex] = kept.length / 3;
      kept.push(positions[3 * vertex]!, positions[3 * vertex + 1]!, positions[3 * vertex + 2]!);
    }
    return numberOf[vertex]!;
  });
  return { positions: Float64Array.from(kept), triangles: renamed };
}

function clustered(positions: Float64Array, triangles: Uint32Array, cell: number): TriangleMesh {
  const cellOf = new Map<string, number>();
  const clusterOf = new Int32Array(positions.length / 3).fill(-1);
  const sums: number[] = [];
  const counts: number[] = [];
  for (let h = 0; h < triangles.length; h++) {
    const vertex = triangles[h]!;
    if (clusterOf[vertex] !== -1) continue;
    const at = 3 * vertex;
    const key = [0, 1, 2].map((k) => Math.floor(positions[at + k]! / cell)).join();
    let cluster = cellOf.get(key);
    if (cluster === undefined) {
      cluster = counts.length;
      cellOf.set(key, cluster);
      counts.push(0);
      sums.push(0, 0, 0);
    }
    counts[cluster]!++;
    for (let k = 0; k < 3; k++) sums[3 * cluster + k]! += positions[at + k]!;
    clusterOf[vertex] = cluster;
  }
  const kept: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => clusterOf[triangles[t + k]!]!) as [number, number, number];
    if (a !== b && b !== c && c !== a) kept.push(a, b, c);
  }
  const means = Float64Array.from(sums, (sum, i) => sum / counts[Math.floor(i / 3)]!);
  return { positions: means, triangles: Uint32Array.from(kept) };
}

function normalsOf(p: Float32Array, triangles: Uint32Array): Float32Array {
  const normals = new Float32Array(p.length);
  const n = [0, 0, 0];
  for (let t = 0; t < triangles.length; t += 3) {
    crossOf(p, triangles, t, n);
    for (let corner = 0; corner < 3; corner++)
      for (let k = 0; k < 3; k++) normals[3 * triangles[t + corner]! + k]! += n[k]!;
  }
  for (let i = 0; i < normals.length; i += 3) {
    const size = Math.hypot(normals[i]!, normals[i + 1]!, normals[i + 2]!) || 1;
    for (let k = 0; k < 3; k++) normals[i + k]! /= size;
  }
  return normals;
}
