import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { buildTriangleTree } from './build-triangle-tree.ts';
import { CORNER_0, FACE } from './closest-point-on-triangle.ts';
import type { DistanceField, FootRows } from './distance-field.ts';
import { buildVertexFans, featureNormal } from './feature-normal.ts';
import { createNearestHit, createNearestQuery, type NearestHit } from './nearest-in-tree.ts';

/** Nearer than this the direction to the foot is rounding noise, and the pseudonormal is taken instead. */
const TOUCHING_MM = 1e-6;

/**
 * The exact path on a mesh: signed distance to the nearest point of its triangles, in the mesh's own frame and unit.
 *
 * The mesh must be welded (shared vertices) and consistently wound, counter-clockwise from outside; triangles without an
 * area are skipped. A nearest point on a boundary edge or at a boundary vertex is no data. The normal is the direction
 * away from the foot on the outside, towards it inside; at the foot itself the feature's pseudonormal.
 *
 * Hessian: 0 over a face; (I - n n' - e e')/d over an edge along e; (I - n n')/d over a vertex: exact away from the
 * kinks, unbounded towards the edge (d Hessian stays bounded), hence `smooth` = false.
 *
 * The tree is built at the first query. Not to be shared between threads: queries use one stack.
 */
export function createMeshDistanceField(mesh: TriangleMesh): DistanceField {
  let parts: ReturnType<typeof prepare> | undefined;
  return {
    smooth: false,
    evaluate(pointsMm, from, to, _side, out, wantHessian) {
      parts ??= prepare(mesh);
      const { query, fans, hit, pseudo } = parts;
      for (let n = from; n < to; n++) {
        const x = pointsMm[3 * n];
        const y = pointsMm[3 * n + 1];
        const z = pointsMm[3 * n + 2];
        query(x, y, z, hit);
        const inside = hit.triangle >= 0 && featureNormal(mesh, fans, hit.triangle, hit.feature, pseudo);
        out.hasData[n] = inside ? 1 : 0;
        if (inside) writeRow(mesh, hit, pseudo, x - hit.x, y - hit.y, z - hit.z, out, n, wantHessian);
      }
    },
  };
}

function prepare(mesh: TriangleMesh) {
  return {
    query: createNearestQuery(mesh, buildTriangleTree(mesh)),
    fans: buildVertexFans(mesh),
    hit: createNearestHit(),
    pseudo: new Float64Array(3),
  };
}

function writeRow(
  mesh: TriangleMesh,
  hit: NearestHit,
  pseudo: Float64Array,
  dx: number,
  dy: number,
  dz: number,
  out: FootRows,
  n: number,
  wantHessian: boolean,
): void {
  const length = Math.sqrt(hit.squaredDistance);
  const sign = dx * pseudo[0] + dy * pseudo[1] + dz * pseudo[2] < 0 ? -1 : 1;
  const d = sign * length;
  const direct = hit.feature !== FACE && length > TOUCHING_MM;
  const n3 = 3 * n;
  out.distanceMm[n] = d;
  out.footMm[n3] = hit.x;
  out.footMm[n3 + 1] = hit.y;
  out.footMm[n3 + 2] = hit.z;
  out.normal[n3] = direct ? dx / d : pseudo[0];
  out.normal[n3 + 1] = direct ? dy / d : pseudo[1];
  out.normal[n3 + 2] = direct ? dz / d : pseudo[2];
  if (wantHessian) writeHessian(mesh, hit, direct ? d : 0, out, n);
}

/** `d` = 0 stands for "flat here". */
function writeHessian(mesh: TriangleMesh, hit: NearestHit, d: number, out: FootRows, n: number): void {
  const h = out.hessian.subarray(6 * n, 6 * n + 6);
  h.fill(0);
  if (d === 0) return;
  const [nx, ny, nz] = out.normal.subarray(3 * n, 3 * n + 3);
  let ex = 0;
  let ey = 0;
  let ez = 0;
  if (hit.feature < CORNER_0) {
    const { positions: p, triangles } = mesh;
    const k = hit.feature - 1;
    const a = 3 * triangles[3 * hit.triangle + k];
    const b = 3 * triangles[3 * hit.triangle + ((k + 1) % 3)];
    const length = Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
    ex = (p[b] - p[a]) / length;
    ey = (p[b + 1] - p[a + 1]) / length;
    ez = (p[b + 2] - p[a + 2]) / length;
  }
  h[0] = (1 - nx * nx - ex * ex) / d;
  h[1] = (-nx * ny - ex * ey) / d;
  h[2] = (-nx * nz - ex * ez) / d;
  h[3] = (1 - ny * ny - ey * ey) / d;
  h[4] = (-ny * nz - ey * ez) / d;
  h[5] = (1 - nz * nz - ez * ez) / d;
}
