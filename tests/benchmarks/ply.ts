import { PLYLoader } from 'three/addons/loaders/PLYLoader.js';
import { readPly } from '../../packages/geometry/src/exchange/read-ply.ts';
import { writePly } from '../../packages/geometry/src/exchange/write-ply.ts';
import type { TriangleMesh } from '../../packages/geometry/src/surface/triangle-mesh.ts';
import { measureInterleaved } from './measure.ts';
import type { Row } from './row.ts';

const CELLS = 707;
const SPACING_MM = 0.8;

/** T10: reading a mesh of a million triangles, binary and ASCII, against PLYLoader.parse of three on the same bytes. */
export async function run(): Promise<Row[]> {
  const mesh = wavySheet(CELLS);
  return [false, true].map((ascii) => {
    const bytes = writePly(mesh, { ascii });
    const buffer = bytes.slice().buffer;
    const loader = new PLYLoader();
    const times = measureInterleaved(
      () => readPly(bytes, 'sheet.ply').mesh.positions[0],
      () => loader.parse(buffer).getAttribute('position').array[0],
      ascii ? { rounds: 5, warmUps: 1 } : { rounds: 11, warmUps: 3 },
    );
    const name = `read ${ascii ? 'ASCII' : 'binary'} PLY, ${mesh.triangles.length / 3} triangles`;
    return { target: 'T10', name, ...times, unit: 'ms', accuracy: compare(bytes, buffer, loader) };
  });
}

/** A height field of 2 n^2 triangles, as long as a back, with waves so that no digit repeats. */
function wavySheet(n: number): TriangleMesh {
  const positions = new Float64Array(3 * (n + 1) ** 2);
  const triangles = new Uint32Array(6 * n * n);
  for (let j = 0, v = 0, t = 0; j <= n; j++) {
    for (let i = 0; i <= n; i++, v++) {
      positions.set([i * SPACING_MM, (j - n / 2) * SPACING_MM, 40 * Math.sin(i * 0.011) * Math.cos(j * 0.007)], 3 * v);
      if (i === n || j === n) continue;
      triangles.set([v, v + 1, v + n + 2, v, v + n + 2, v + n + 1], t);
      t += 6;
    }
  }
  return { positions: Float64Array.from(new Float32Array(positions)), triangles };
}

function compare(bytes: Uint8Array, buffer: ArrayBuffer, loader: PLYLoader): string {
  const { mesh } = readPly(bytes, 'sheet.ply');
  const theirs = loader.parse(buffer);
  const position = theirs.getAttribute('position').array;
  const index = theirs.getIndex()?.array ?? [];
  let largest = 0;
  for (let i = 0; i < position.length; i++) largest = Math.max(largest, Math.abs(position[i] - mesh.positions[i]));
  const sameFaces = index.length === mesh.triangles.length && mesh.triangles.every((v, i) => v === index[i]);
  return `largest coordinate difference ${largest} mm, ${sameFaces ? 'same' : 'different'} faces`;
}
