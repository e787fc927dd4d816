import { readMesh } from '@barwright/geometry';
import { expect, it } from 'vitest';
import { encodeAscii } from '../../packages/geometry/src/exchange/ascii-bytes.ts';
import {
  GLB_BIN,
  GLB_INDICES,
  GLB_POSITIONS,
  glbJson,
  writeGlb,
} from '../../packages/geometry/src/exchange/glb.fixture.ts';
import { modelXml, RELATIONS, write3mf, writeZip } from '../../packages/geometry/src/exchange/zip.fixture.ts';
import { refusal } from './horse-scan.fixture.ts';

/**
 * Files of a few hundred bytes that claim gigabytes: refused before memory is taken. Measured are array memory, which
 * stays counted until it is collected, and the process's highest resident memory.
 */
const MOST_BYTES = 32 * 2 ** 20;
const MOST_RESIDENT_KB = 96 * 2 ** 10;
const FOUR_BILLION = 4_000_000_000;

const ply = (format: string, vertices: number, faces: number, list = 'uchar int'): Uint8Array =>
  encodeAscii(
    `ply\nformat ${format} 1.0\nelement vertex ${vertices}\nproperty float x\nproperty float y\nproperty float z\n` +
      `element face ${faces}\nproperty list ${list} vertex_indices\nend_header\n0 0 0\n4 0 0\n0 5 1\n3 0 1 2\n`,
  );

function stl(count: number): Uint8Array {
  const bytes = new Uint8Array(84 + 50);
  new DataView(bytes.buffer).setUint32(80, count, true);
  return bytes;
}

function glb(accessor: number, change: Record<string, unknown>): Uint8Array {
  const accessors = (glbJson().accessors as object[]).map((a, i) => (i === accessor ? { ...a, ...change } : a));
  return writeGlb(glbJson({ accessors }));
}

const glbLength = (at: number, value: number): Uint8Array => {
  const bytes = writeGlb(glbJson());
  new DataView(bytes.buffer).setUint32(at, value, true);
  return bytes;
};

const sparse = { count: 1, indices: { bufferView: 1, componentType: 5121 }, values: { bufferView: 3 } };
const binChunk = 20 + 4 * Math.ceil(JSON.stringify(glbJson()).length / 4);
const bomb = (bytes?: number): Uint8Array =>
  writeZip([
    { name: '_rels/.rels', content: RELATIONS },
    { name: '3D/3dmodel.model', content: new Uint8Array(64 * 2 ** 20), ...(bytes === undefined ? {} : { bytes }) },
  ]);

const CLAIMS: readonly [name: string, file: string, bytes: Uint8Array, code: string][] = [
  ...['ascii', 'binary_little_endian', 'binary_big_endian'].flatMap(
    (format): [string, string, Uint8Array, string][] => [
      [`22 PLY ${format}, 4 billion vertices`, 'a.ply', ply(format, FOUR_BILLION, 1), 'too-large'],
      [`22 PLY ${format}, 4 billion faces`, 'a.ply', ply(format, 3, FOUR_BILLION), 'too-large'],
      [`22 PLY ${format}, as many vertices as are allowed`, 'a.ply', ply(format, 60_000_000, 1), 'truncated'],
      [`22 PLY ${format}, as many faces as are allowed`, 'a.ply', ply(format, 3, 20_000_000), 'truncated'],
      [`22 PLY ${format}, 2^53 vertices`, 'a.ply', ply(format, 2 ** 53, 1), 'malformed'],
    ],
  ),
  ['3 STL, 2^32 - 1 facets', 'a.stl', stl(2 ** 32 - 1), 'truncated'],
  ['3 STL, as many facets as are allowed', 'a.stl', stl(20_000_000), 'truncated'],
  ['66 GLB, 4 billion vertices', 'a.glb', glb(0, { count: FOUR_BILLION }), 'too-large'],
  [
    '66 GLB, 4 billion vertices out of nothing',
    'a.glb',
    glb(0, { count: FOUR_BILLION, bufferView: undefined, sparse }),
    'too-large',
  ],
  ['66 GLB, 4 billion indices', 'a.glb', glb(2, { count: FOUR_BILLION }), 'too-large'],
  [
    '66 GLB, 50 million vertices out of nothing',
    'a.glb',
    glb(0, { count: 50_000_000, bufferView: undefined, sparse }),
    'too-large',
  ],
  ['66 GLB, a length of 4 GB', 'a.glb', glbLength(8, 2 ** 32 - 4), 'truncated'],
  ['66 GLB, a JSON chunk of 4 GB', 'a.glb', glbLength(12, 2 ** 32 - 4), 'truncated'],
  ['66 GLB, a BIN chunk of 4 GB', 'a.glb', glbLength(binChunk, 2 ** 32 - 4), 'truncated'],
  ['61 3MF, 64 MB from 64 kB', 'a.3mf', bomb(), 'too-large'],
  ['61 3MF, 64 MB from 64 kB that state 1000 bytes', 'a.3mf', bomb(1000), 'inconsistent'],
  ['63 3MF, a part that states 4 GB', 'a.3mf', bomb(FOUR_BILLION), 'too-large'],
  [
    '64 3MF, an entity bomb',
    'a.3mf',
    write3mf(`<!DOCTYPE a [<!ENTITY a "${'x'.repeat(99)}"><!ENTITY b "${'&a;'.repeat(99)}">]>${modelXml()}`),
    'forbidden',
  ],
  ['22 points, 4 billion promised', 'a.xyz', encodeAscii(`${FOUR_BILLION}\n${'1 2 3\n'.repeat(9)}`), 'too-large'],
  ['22 points, 50 million promised', 'a.xyz', encodeAscii(`50000000\n${'1 2 3\n'.repeat(9)}`), 'truncated'],
  [
    '23 OBJ, a face of a vertex 4 billion',
    'a.obj',
    encodeAscii(`v 0 0 0\nv 4 0 0\nv 0 5 1\nf 1 2 ${FOUR_BILLION}\n`),
    'out-of-range',
  ],
];

it.each(CLAIMS)('%s', (_, file, bytes, code) => {
  const [arrays, resident] = [process.memoryUsage().arrayBuffers, process.resourceUsage().maxRSS];
  const error = refusal(() => readMesh(bytes, file));
  expect(process.memoryUsage().arrayBuffers - arrays).toBeLessThan(MOST_BYTES);
  expect(process.resourceUsage().maxRSS - resident).toBeLessThan(MOST_RESIDENT_KB);
  expect([error.code, error.details.file]).toEqual([code, file]);
});

it('66 GLB, a buffer that states 4 GB whose parts all lie in the file: read as they are, no memory taken', () => {
  const bytes = writeGlb(glbJson({ buffers: [{ byteLength: FOUR_BILLION }] }), GLB_BIN);
  const arrays = process.memoryUsage().arrayBuffers;
  const { mesh } = readMesh(bytes, 'a.glb');
  expect(process.memoryUsage().arrayBuffers - arrays).toBeLessThan(MOST_BYTES);
  expect([[...mesh.positions], [...mesh.triangles]]).toEqual([GLB_POSITIONS, GLB_INDICES]);
});
