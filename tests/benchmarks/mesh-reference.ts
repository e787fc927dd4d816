import { BufferAttribute, BufferGeometry, Vector3 } from 'three';
import { type HitPointInfo, MeshBVH } from 'three-mesh-bvh';
import type { Chart, DistanceField } from '../../packages/geometry/src/spatial/index.ts';
import { buildChartFromMesh, createChartField } from '../../packages/geometry/src/spatial/index.ts';
import type { TriangleMesh } from '../../packages/geometry/src/surface/triangle-mesh.ts';

const TILT_RAD = (38 * Math.PI) / 180;

/** Our fast path over a mesh, both sides. */
export function chartsOf(mesh: TriangleMesh): DistanceField {
  return createChartField(...sideCharts(mesh));
}

/** Left and right. */
export const sideCharts = (mesh: TriangleMesh): [Chart, Chart] => [
  buildChartFromMesh(mesh, 'left', TILT_RAD),
  buildChartFromMesh(mesh, 'right', TILT_RAD),
];

export function bvhOf(mesh: TriangleMesh): MeshBVH {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float64Array.from(mesh.positions), 3));
  geometry.setIndex(new BufferAttribute(Uint32Array.from(mesh.triangles), 1));
  return new MeshBVH(geometry);
}

/** Sum of unsigned distances of all points by closestPointToPoint; writes them to `out` when given. */
export function closestDistances(bvh: MeshBVH, points: Float64Array, out?: Float64Array): number {
  const at = new Vector3();
  const hit: HitPointInfo = { point: new Vector3(), distance: 0, faceIndex: 0 };
  let sum = 0;
  for (let i = 0; i < points.length / 3; i++) {
    at.set(points[3 * i], points[3 * i + 1], points[3 * i + 2]);
    bvh.closestPointToPoint(at, hit);
    sum += hit.distance;
    if (out !== undefined) out[i] = hit.distance;
  }
  return sum;
}

/** The mesh itself as a field of signed distances, by closestPointToPoint: facets, so no bends. */
export function bvhField(mesh: TriangleMesh, bvh: MeshBVH): DistanceField {
  const at = new Vector3();
  const hit: HitPointInfo = { point: new Vector3(), distance: 0, faceIndex: 0 };
  const normals = faceNormals(mesh, bvh);
  return {
    smooth: false,
    evaluate(points, from, to, _side, out, wantHessian) {
      for (let i = from; i < to; i++) {
        at.set(points[3 * i], points[3 * i + 1], points[3 * i + 2]);
        bvh.closestPointToPoint(at, hit);
        const { x, y, z } = hit.point;
        const f = 3 * hit.faceIndex;
        const [dx, dy, dz] = [at.x - x, at.y - y, at.z - z];
        const sign = dx * normals[f] + dy * normals[f + 1] + dz * normals[f + 2] < 0 ? -1 : 1;
        out.hasData[i] = 1;
        out.distanceMm[i] = sign * hit.distance;
        const per = hit.distance > 1e-6 ? sign / hit.distance : 0;
        for (let a = 0; a < 3; a++) {
          out.footMm[3 * i + a] = [x, y, z][a];
          out.normal[3 * i + a] = per === 0 ? normals[f + a] : per * [dx, dy, dz][a];
        }
        if (wantHessian) out.hessian.fill(0, 6 * i, 6 * i + 6);
      }
    },
  };
}

function faceNormals({ positions: p }: TriangleMesh, bvh: MeshBVH): Float64Array {
  const index = bvh.geometry.index?.array ?? [];
  const normals = new Float64Array(index.length);
  for (let f = 0; f < index.length; f += 3) {
    const [a, b, c] = [3 * index[f], 3 * index[f + 1], 3 * index[f + 2]];
    const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const length = Math.hypot(...n) * Math.sign(n[2]);
    normals.set([n[0] / length, n[1] / length, n[2] / length], f);
  }
  return normals;
}
