import {
  type BackSurface,
  buildBack,
  InputError,
  LANDMARK_NAMES,
  readBack,
  readMesh,
  type ScanBackDocument,
  type TriangleMesh,
  writeObj,
} from '@barwright/geometry';
import { exampleBack } from '../support/examples.ts';

/** Tuesday as a net of 12 mm: x to the tail, y to the right, z up, mm. */
export const HORSE: BackSurface = buildBack(exampleBack('tuesday'));
export const NET: TriangleMesh = HORSE.drawingMesh();

/** The document that states NET as it is, with changes. */
export function scanDocument(changes: Readonly<Record<string, unknown>> = {}): ScanBackDocument {
  const document = readBack({
    schema: 'barwright/back/1',
    kind: 'scan',
    name: 'Tuesday',
    mesh: 'a.obj',
    unit: 'mm',
    axes: { tail: '+x', right: '+y', up: '+z' },
    landmarks: Object.fromEntries(LANDMARK_NAMES.map((name) => [name, [...HORSE.landmarks[name]]])),
    measured: { by: 'made from the demo back', on: '2024-05-01', uncertaintyMm: 1, uncertaintyDeg: 1 },
    ...changes,
  });
  if (document.kind !== 'scan') throw new Error('not a scan');
  return document;
}

/** The way that a user's file takes: bytes, reader, cleaning, frame. OBJ keeps double precision. */
export function throughFile(mesh: TriangleMesh, changes: Readonly<Record<string, unknown>> = {}): BackSurface {
  return buildBack(scanDocument(changes), { mesh: readMesh(writeObj(mesh), 'a.obj').mesh });
}

/** NET with further vertices and triangles; indices of the added ones count from the first added vertex. */
export function withMore(positions: readonly number[], triangles: readonly number[]): TriangleMesh {
  const first = NET.positions.length / 3;
  return {
    positions: Float64Array.of(...NET.positions, ...positions),
    triangles: Uint32Array.of(...NET.triangles, ...triangles.map((vertex) => first + vertex)),
  };
}

export const mapPositions = (
  { positions, triangles }: TriangleMesh,
  change: (x: number, y: number, z: number) => readonly number[],
): TriangleMesh => {
  const out = new Float64Array(positions.length);
  for (let k = 0; k < out.length; k += 3) out.set(change(positions[k]!, positions[k + 1]!, positions[k + 2]!), k);
  return { positions: out, triangles };
};

const PLACES = Array.from({ length: 400 }, (_, i): [number, number] => [
  -90 + (i % 20) * 39,
  -230 + Math.floor(i / 20) * 24.1,
]);
const CLEAN = throughFile(NET);

/** Largest difference in height from the unspoiled scan, mm; no data where there was some counts as infinite. */
export function awayFromClean(back: BackSurface, except: (x: number, y: number) => boolean = () => false): number {
  let worst = 0;
  for (const [x, y] of PLACES) {
    const want = CLEAN.heightMm(x, y);
    if (Number.isNaN(want) || except(x, y)) continue;
    const away = Math.abs(back.heightMm(x, y) - want);
    worst = Math.max(worst, Number.isNaN(away) ? Number.POSITIVE_INFINITY : away);
  }
  return worst;
}

/** The refusal that work ends with; anything else that is thrown is a fault and goes on. */
export function refusal(work: () => unknown): InputError {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('was taken without a refusal');
}
