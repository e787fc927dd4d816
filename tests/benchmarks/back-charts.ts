import { BufferAttribute, BufferGeometry } from 'three';
import { MeshBVH, SAH } from 'three-mesh-bvh';
import {
  buildChartFromMesh,
  type Chart,
  createChartField,
  createFootRows,
} from '../../packages/geometry/src/spatial/index.ts';
import type { TriangleMesh } from '../../packages/geometry/src/surface/triangle-mesh.ts';
import { collect, type Interleaved, median } from './measure.ts';
import { bvhOf, closestDistances } from './mesh-reference.ts';
import type { Row } from './row.ts';
import { barPoints, syntheticBack } from './synthetic-back.ts';

const TILT_RAD = (38 * Math.PI) / 180;
const SMOOTHING_MM = 2;
/** T3's bound, and one that smoothing by 2 mm keeps. */
const PLAIN_BOUND_MM = 0.01;
const SMOOTHED_BOUND_MM = 0.2;

/** T9: both charts of a back of a million triangles, against the two builds of three-mesh-bvh on the same mesh. */
export async function run(): Promise<Row[]> {
  const mesh = syntheticBack(1_000_000);
  const truth = new Float64Array(barPoints().length / 3);
  closestDistances(bvhOf(mesh), barPoints(), truth);
  const plain = (): [Chart, Chart] => bothCharts(mesh, 0);
  const smoothed = (): [Chart, Chart] => bothCharts(mesh, SMOOTHING_MM);
  const errors = {
    plain: largestError(plain(), truth, PLAIN_BOUND_MM),
    smoothed: largestError(smoothed(), truth, SMOOTHED_BOUND_MM),
  };
  const row = (name: string, times: Interleaved, error: number): Row => ({
    target: 'T9',
    name,
    ...times,
    unit: 'ms',
    accuracy: `10,000 gaps of 0 ... 17 mm on these charts, against nearest points on the mesh: largest error ${error.toFixed(4)} mm`,
  });
  const name = 'both charts of 1M triangles';
  return [
    row(`${name}, three-mesh-bvh default build`, against(mesh, plain, {}, 7), errors.plain),
    row(`${name}, three-mesh-bvh SAH build`, against(mesh, plain, { strategy: SAH }, 3), errors.plain),
    row(
      `${name} smoothed by ${SMOOTHING_MM} mm, three-mesh-bvh default build`,
      against(mesh, smoothed, {}, 7),
      errors.smoothed,
    ),
  ];
}

const bothCharts = (mesh: TriangleMesh, smoothingMm: number): [Chart, Chart] => [
  buildChartFromMesh(mesh, 'left', TILT_RAD, { smoothingMm }),
  buildChartFromMesh(mesh, 'right', TILT_RAD, { smoothingMm }),
];

/** Medians of interleaved rounds. The tree sorts the index in place, so each round gets a fresh one before the clock starts. */
function against(
  mesh: TriangleMesh,
  charts: () => [Chart, Chart],
  options: ConstructorParameters<typeof MeshBVH>[1],
  rounds: number,
): Interleaved {
  const times = { ours: [] as number[], reference: [] as number[] };
  for (let round = -1; round < rounds; round++) {
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(Float32Array.from(mesh.positions), 3));
    geometry.setIndex(new BufferAttribute(Uint32Array.from(mesh.triangles), 1));
    collect();
    const begun = performance.now();
    const [left, right] = charts();
    const between = performance.now();
    if (!(left.coefficients[7] + right.coefficients[7] < 1e9)) throw new Error('a chart without heights');
    collect();
    const begunTree = performance.now();
    const tree = new MeshBVH(geometry, options);
    const ended = performance.now();
    if (tree.geometry !== geometry) throw new Error('a tree of another mesh');
    if (round < 0) continue;
    times.ours.push(between - begun);
    times.reference.push(ended - begunTree);
  }
  const medians = { ours: median(times.ours), reference: median(times.reference) };
  return { ...medians, ratio: medians.reference / medians.ours };
}

function largestError([left, right]: [Chart, Chart], truth: Float64Array, boundMm: number): number {
  const points = barPoints();
  const n = points.length / 3;
  const rows = createFootRows(n);
  const field = createChartField(left, right);
  field.evaluate(points, 0, n / 2, 'left', rows, false);
  field.evaluate(points, n / 2, n, 'right', rows, false);
  let largest = 0;
  for (let i = 0; i < n; i++) {
    if (rows.hasData[i] === 0) throw new Error(`no data at bar point ${i}`);
    largest = Math.max(largest, Math.abs(Math.abs(rows.distanceMm[i]) - truth[i]));
  }
  if (!(largest <= boundMm)) throw new Error(`charts are ${largest} mm off, expected at most ${boundMm}`);
  return largest;
}
