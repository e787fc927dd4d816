import type { MeshBVH } from 'three-mesh-bvh';
import { seededRandom } from '../../packages/geometry/src/numeric/index.ts';
import {
  createFootRows,
  createWasmChart,
  type DistanceField,
  type FootRows,
} from '../../packages/geometry/src/spatial/index.ts';
import type { TriangleMesh } from '../../packages/geometry/src/surface/triangle-mesh.ts';
import { measureInterleaved } from './measure.ts';
import { bvhOf, chartsOf, closestDistances, sideCharts } from './mesh-reference.ts';
import type { Row } from './row.ts';
import { backHeight, barPoints, syntheticBack } from './synthetic-back.ts';

/** T1, T3, T4: distances of 10,000 bar points, charts against closestPointToPoint of three-mesh-bvh on the same mesh. */
export async function run(): Promise<Row[]> {
  return [...smooth(200_000, '200k'), ...smooth(1_000_000, '1M'), noisy(1_000_000)];
}

function queryAll(field: DistanceField, points: Float64Array, rows: FootRows): number {
  const half = points.length / 6;
  field.evaluate(points, 0, half, 'left', rows, false);
  field.evaluate(points, half, 2 * half, 'right', rows, false);
  return rows.distanceMm[17];
}

function smooth(triangles: number, size: string): Row[] {
  const mesh = syntheticBack(triangles);
  const bvh = bvhOf(mesh);
  const field = chartsOf(mesh);
  const points = barPoints();
  const rows = createFootRows(points.length / 3);
  const times = measureInterleaved(
    () => queryAll(field, points, rows),
    () => closestDistances(bvh, points),
  );
  const truth = new Float64Array(points.length / 3);
  closestDistances(bvh, points, truth);
  const { p99, max } = errorsOf(rows, truth);
  const accuracy = `against the nearest point on the mesh: p99 ${p99.toFixed(4)}, max ${max.toFixed(4)} mm`;
  return [
    ...kernelRow(mesh, bvh, points, truth, size),
    {
      target: 'T1',
      name: `10,000 gaps, plain JS charts vs three-mesh-bvh closestPointToPoint, ${size}`,
      ...times,
      unit: 'ms',
      accuracy,
    },
    {
      target: 'T3',
      name: `largest error against a bound of 0.01 mm, d 0 ... 17 mm, ${size}`,
      ours: max,
      reference: 0.01,
      ratio: 0.01 / max,
      unit: 'mm',
      accuracy: `p99 ${p99.toFixed(4)} mm against a bound of 0.005`,
    },
  ];
}

function errorsOf(rows: FootRows, truth: Float64Array): { p99: number; max: number } {
  const errors = rows.distanceMm.map((d, i) => Math.abs(Math.abs(d) - truth[i])).sort();
  return { p99: errors[Math.floor(0.99 * errors.length)], max: errors[errors.length - 1] };
}

/** The kernel with points copied in and distances, feet and normals copied out; no row where the engine has no SIMD. */
function kernelRow(mesh: TriangleMesh, bvh: MeshBVH, points: Float64Array, truth: Float64Array, size: string): Row[] {
  const [left, right] = sideCharts(mesh).map((chart) => createWasmChart(chart));
  if (left === null || right === null) return [];
  const n = points.length / 3;
  const rows = createFootRows(n);
  const times = measureInterleaved(
    () => {
      left.evaluate(points, 0, n / 2, rows);
      right.evaluate(points, n / 2, n, rows);
      return rows.distanceMm[17];
    },
    () => closestDistances(bvh, points),
  );
  const { p99, max } = errorsOf(rows, truth);
  const accuracy = `against the nearest point on the mesh: p99 ${p99.toFixed(4)}, max ${max.toFixed(4)} mm`;
  const name = `10,000 gaps, WebAssembly kernel vs three-mesh-bvh closestPointToPoint, ${size}`;
  return [{ target: 'T1', name, ...times, unit: 'ms', accuracy }];
}

function noisy(triangles: number): Row {
  const mesh = syntheticBack(triangles, 0.1);
  const bvh = bvhOf(mesh);
  const field = chartsOf(mesh);
  const points = barPoints();
  const rows = createFootRows(points.length / 3);
  queryAll(field, points, rows);
  const onMesh = new Float64Array(points.length / 3);
  closestDistances(bvh, points, onMesh);
  const p99 = (distances: Float64Array): number => {
    const random = seededRandom(7);
    const errors = distances.map((d) => Math.abs(Math.abs(d) - 17 * random())).sort();
    return errors[Math.floor(0.99 * errors.length)];
  };
  const ours = p99(rows.distanceMm);
  const reference = p99(onMesh);
  return {
    target: 'T4',
    name: 'p99 error to the noise-free surface, 1M with 0.1 mm noise: charts vs nearest point on the noisy mesh',
    ours,
    reference,
    ratio: reference / ours,
    unit: 'mm',
    accuracy: fuzz(field),
  };
}

/** A million queries up to 80 mm off the surface: answers that are not finite, or further off than a vertical look allows. */
function fuzz(field: DistanceField): string {
  const random = seededRandom(4);
  const n = 1_000_000;
  const points = new Float64Array(3 * n);
  for (let k = 0; k < n; k++) {
    const x = 20 + 660 * random();
    const y = 20 + 200 * random();
    points.set([x, y, backHeight(x, y) - 20 + 80 * random()], 3 * k);
  }
  const rows = createFootRows(n);
  field.evaluate(points, 0, n, 'right', rows, true);
  let wrong = 0;
  let answered = 0;
  for (let k = 0; k < n; k++) {
    if (rows.hasData[k] === 0) continue;
    answered++;
    const vertical = Math.abs(points[3 * k + 2] - backHeight(points[3 * k], points[3 * k + 1]));
    if (!(Math.abs(rows.distanceMm[k]) <= vertical + 0.6)) wrong++;
  }
  return `fuzz: ${wrong} of ${answered} answers not finite or beyond the vertical distance (seed 4)`;
}
