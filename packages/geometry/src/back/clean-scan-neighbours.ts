import { buildEdgeTable } from '../surface/edge-table.ts';
import { areaVector } from '../surface/mesh-measures.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';

/** Which vertices share an edge. Neighbours of v: list[start[v]] ... list[start[v + 1] - 1]. */
export interface Neighbours {
  readonly start: Int32Array;
  readonly list: Int32Array;
  /** 1 for vertices on a rim, or that no face uses. */
  readonly onRim: Uint8Array;
  /** Sum of the area normals of the faces around each vertex, of unit length; 3 by vertex. */
  readonly normals: Float64Array;
}

export function findNeighbours({ positions, triangles }: TriangleMesh): Neighbours {
  const vertices = positions.length / 3;
  const { edgeOf, faceCount } = buildEdgeTable(triangles);
  const seen = new Uint8Array(faceCount.length);
  const start = new Int32Array(vertices + 1);
  const ends = new Int32Array(2 * faceCount.length);
  const onRim = new Uint8Array(vertices).fill(1);
  for (const vertex of triangles) onRim[vertex] = 0;
  for (let h = 0; h < triangles.length; h++) {
    const [a, b] = [triangles[h], triangles[h % 3 === 2 ? h - 2 : h + 1]];
    if (faceCount[edgeOf[h]] === 1) onRim[a] = onRim[b] = 1;
    if (seen[edgeOf[h]]++ > 0) continue;
    ends.set([a, b], 2 * edgeOf[h]);
    start[a + 1]++;
    start[b + 1]++;
  }
  for (let v = 0; v < vertices; v++) start[v + 1] += start[v];
  const at = start.slice();
  const list = new Int32Array(ends.length);
  for (let e = 0; e < ends.length; e += 2) {
    list[at[ends[e]]++] = ends[e + 1];
    list[at[ends[e + 1]]++] = ends[e];
  }
  return { start, list, onRim, normals: vertexNormals(positions, triangles) };
}

function vertexNormals(p: Float64Array, t: Uint32Array): Float64Array {
  const normals = new Float64Array(p.length);
  const vector = new Float64Array(3);
  for (let i = 0; i < t.length; i += 3) {
    areaVector(p, t[i], t[i + 1], t[i + 2], vector);
    for (let c = 0; c < 3; c++) for (let k = 0; k < 3; k++) normals[3 * t[i + c] + k] += vector[k];
  }
  for (let i = 0; i < normals.length; i += 3) {
    const length = Math.hypot(normals[i], normals[i + 1], normals[i + 2]);
    if (length > 0) for (let k = 0; k < 3; k++) normals[i + k] /= length;
  }
  return normals;
}

/** The mesh without some vertices and every face that uses one; the vertices themselves stay in the list, unused. */
export function withoutVertices(mesh: TriangleMesh, removed: Uint8Array): TriangleMesh {
  const { positions, triangles: t } = mesh;
  const kept = new Uint32Array(t.length);
  let length = 0;
  for (let i = 0; i < t.length; i += 3) {
    if (removed[t[i]] + removed[t[i + 1]] + removed[t[i + 2]] > 0) continue;
    kept.set([t[i], t[i + 1], t[i + 2]], length);
    length += 3;
  }
  return { positions, triangles: kept.slice(0, length) };
}

/** 1.4826 times the median of absolute values: the standard deviation of normal noise, hardly moved by outliers. */
export function robustSigma(residuals: Float64Array): number {
  if (residuals.length === 0) return 0;
  const sizes = residuals.map(Math.abs).sort();
  return 1.4826 * sizes[sizes.length >> 1];
}
