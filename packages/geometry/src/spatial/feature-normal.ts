import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { CORNER_0, FACE } from './closest-point-on-triangle.ts';

/** Triangles around each vertex: those of vertex v are list[offset[v] ... offset[v + 1]). */
export interface VertexFans {
  readonly offset: Uint32Array;
  readonly list: Uint32Array;
}

export function buildVertexFans(mesh: TriangleMesh): VertexFans {
  const { triangles } = mesh;
  const vertices = mesh.positions.length / 3;
  const offset = new Uint32Array(vertices + 1);
  for (let k = 0; k < triangles.length; k++) offset[triangles[k] + 1]++;
  for (let v = 0; v < vertices; v++) offset[v + 1] += offset[v];
  const cursor = offset.slice();
  const list = new Uint32Array(triangles.length);
  for (let k = 0; k < triangles.length; k++) list[cursor[triangles[k]]++] = (k / 3) | 0;
  return { offset, list };
}

/**
 * Writes the outward pseudonormal (unit) of a feature of a triangle to `out` and returns whether the feature is inside
 * the surface: false on a boundary edge, or at a vertex with one.
 *
 * Face: its normal; edge: the sum of the normals beside it; vertex: the sum weighted by the faces' angles there. The
 * sign of (point - nearest point) . pseudonormal tells outside from inside (Baerentzen & Aanaes 2005, from memory).
 */
export function featureNormal(
  mesh: TriangleMesh,
  fans: VertexFans,
  triangle: number,
  feature: number,
  out: Float64Array,
): boolean {
  out[0] = 0;
  out[1] = 0;
  out[2] = 0;
  let inside = true;
  if (feature === FACE) {
    addFaceNormal(mesh, triangle, 1, out);
  } else if (feature < CORNER_0) {
    const k = feature - 1;
    inside = addEdgeNormals(
      mesh,
      fans,
      mesh.triangles[3 * triangle + k],
      mesh.triangles[3 * triangle + ((k + 1) % 3)],
      out,
    );
  } else {
    inside = addVertexNormals(mesh, fans, mesh.triangles[3 * triangle + feature - CORNER_0], out);
  }
  const length = Math.hypot(out[0], out[1], out[2]);
  if (length < 1e-12) {
    // A knife edge folded flat: no side is outside.
    addFaceNormal(mesh, triangle, 1, out);
    return false;
  }
  for (let axis = 0; axis < 3; axis++) out[axis] /= length;
  return inside;
}

function addEdgeNormals(mesh: TriangleMesh, fans: VertexFans, v: number, w: number, out: Float64Array): boolean {
  let beside = 0;
  for (let i = fans.offset[v]; i < fans.offset[v + 1]; i++) {
    const t = fans.list[i];
    if (!holds(mesh, t, w)) continue;
    if (addFaceNormal(mesh, t, 1, out)) beside++;
  }
  return beside >= 2;
}

function addVertexNormals(mesh: TriangleMesh, fans: VertexFans, v: number, out: Float64Array): boolean {
  const { triangles } = mesh;
  let inside = true;
  for (let i = fans.offset[v]; i < fans.offset[v + 1]; i++) {
    const t = fans.list[i];
    if (!addFaceNormal(mesh, t, angleAt(mesh, t, v), out)) continue;
    for (let corner = 0; corner < 3; corner++) {
      const w = triangles[3 * t + corner];
      if (w !== v && trianglesOnEdge(mesh, fans, v, w) < 2) inside = false;
    }
  }
  return inside;
}

function trianglesOnEdge(mesh: TriangleMesh, fans: VertexFans, v: number, w: number): number {
  let count = 0;
  for (let i = fans.offset[v]; i < fans.offset[v + 1]; i++) if (holds(mesh, fans.list[i], w)) count++;
  return count;
}

function holds(mesh: TriangleMesh, t: number, v: number): boolean {
  const { triangles } = mesh;
  return triangles[3 * t] === v || triangles[3 * t + 1] === v || triangles[3 * t + 2] === v;
}

/** Adds weight times the unit normal; false for a triangle without an area. */
function addFaceNormal(mesh: TriangleMesh, t: number, weight: number, out: Float64Array): boolean {
  const { positions: p, triangles } = mesh;
  const a = 3 * triangles[3 * t];
  const b = 3 * triangles[3 * t + 1];
  const c = 3 * triangles[3 * t + 2];
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
  if (!(length > 0)) return false;
  const scale = weight / length;
  out[0] += nx * scale;
  out[1] += ny * scale;
  out[2] += nz * scale;
  return true;
}

function angleAt(mesh: TriangleMesh, t: number, v: number): number {
  const { positions: p, triangles } = mesh;
  const corner = triangles[3 * t] === v ? 0 : triangles[3 * t + 1] === v ? 1 : 2;
  const o = 3 * v;
  const a = 3 * triangles[3 * t + ((corner + 1) % 3)];
  const b = 3 * triangles[3 * t + ((corner + 2) % 3)];
  const u = [p[a] - p[o], p[a + 1] - p[o + 1], p[a + 2] - p[o + 2]];
  const w = [p[b] - p[o], p[b + 1] - p[o + 1], p[b + 2] - p[o + 2]];
  const cross = Math.hypot(u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]);
  return Math.atan2(cross, u[0] * w[0] + u[1] * w[1] + u[2] * w[2]);
}
