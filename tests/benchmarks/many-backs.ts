import { buildBack, readBack, readPly, SETUP_DEFAULTS, type TriangleMesh } from '@barwright/geometry';
import { writePly } from '../../packages/geometry/src/exchange/write-ply.ts';
import { collect } from './measure.ts';
import type { Row } from './row.ts';
import { backHeight, syntheticBack } from './synthetic-back.ts';

const BACKS = 60;
const TRIANGLES = 50_000;
/** Memory is looked at after these many backs, everything unused collected. */
const LOOKS = [BACKS / 6, BACKS / 2, BACKS];
const MOST_GROWTH_BYTES = 1e6;

/** W3: many scans read, cleaned and charted one after the other: what is held after the last, beyond what was after a sixth. */
export async function run(): Promise<Row[]> {
  const files = [1, 2, 3, 4, 5, 6, 7].map((seed) => writePly(syntheticBack(TRIANGLES, 0, seed)));
  const held: number[] = [];
  let heights = 0;
  for (let n = 1; n <= BACKS; n++) {
    heights += heightOf(readPly(files[n % files.length], 'sheet.ply').mesh);
    if (!LOOKS.includes(n)) continue;
    // Twice: buffers are given back a collection after what held them.
    collect();
    collect();
    const { heapUsed, external } = process.memoryUsage();
    held.push(heapUsed + external);
  }
  if (!(heights / BACKS < 0.05)) throw new Error(`charts are ${heights / BACKS} mm off on average`);
  const growth = held[2] - held[0];
  return [
    {
      target: 'W3',
      name: `${BACKS} backs of ${TRIANGLES} triangles one after the other: growth of what is held from the first sixth to the end, against 1 MB`,
      ours: Math.max(growth, 1e4) / 1e6,
      reference: MOST_GROWTH_BYTES / 1e6,
      ratio: MOST_GROWTH_BYTES / Math.max(growth, 1e4),
      unit: 'MB',
      accuracy: `held after ${LOOKS.join(', ')} backs: ${held.map((bytes) => (bytes / 1e6).toFixed(1)).join(', ')} MB; heights ${(heights / BACKS).toFixed(4)} mm off on average`,
    },
  ];
}

/** How far the back of a scan is from the true height at one place, mm. */
function heightOf(mesh: TriangleMesh): number {
  const on = (x: number, y: number): [number, number, number] => [x, y, backHeight(x, y)];
  const document = readBack({
    schema: 'barwright/back/1',
    kind: 'scan',
    name: 'Sheet',
    mesh: 'sheet.ply',
    unit: 'mm',
    axes: { tail: '+x', right: '+y', up: '+z' },
    landmarks: {
      withersTop: on(60, 0),
      lastRib: on(600, 0),
      bladeEdgeLeft: on(110, -120),
      bladeEdgeRight: on(110, 120),
    },
    measured: { by: 'Quillback Lane bench (invented)', on: '2026-10-12', uncertaintyMm: 3, uncertaintyDeg: 2 },
  });
  const back = buildBack(document, { mesh, legForward: SETUP_DEFAULTS.legForward });
  const [x, y, z] = back.landmarks.bladeEdgeRight;
  return Math.abs(back.heightMm(x + 200, y) - z - (backHeight(310, 120) - backHeight(110, 120)));
}
