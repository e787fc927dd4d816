import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/input-error.ts';
import { encodeAscii } from './ascii-bytes.ts';
import { glbJson, writeGlb } from './glb.fixture.ts';
import {
  read3mf,
  readGlb,
  readMesh,
  readObj,
  readPly,
  readStl,
  readXyz,
  writeObj,
  writePly,
  writeStl,
} from './index.ts';
import { modelXml, TETRAHEDRON, write3mf } from './zip.fixture.ts';

const SEED = 20_240_611;
const MUTATIONS = 3000;
const LARGEST_BYTES = 2048;

/** Mulberry32 (from memory): 0 <= value < 1. */
function mulberry32(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

const GRID = grid(4);
const latin1 = (text: string) => Uint8Array.from(text, (c) => c.charCodeAt(0));
const ASCII_STL = latin1(
  `solid s\n${'facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 4 0 0.5\nvertex 0 5 1e-2\nendloop\nendfacet\n'.repeat(5)}endsolid`,
);
const RICH_OBJ = latin1(`o horse back\nv 0 0 0 1 0 0\nv 4 0 0 0 1 0\nv 4 4 1 0 0 1\nv 0 4 -1e-3 1 1 1\nvt 0 0\nvn 0 0 1
f 1/1/1 2//1 3/1 4\nf -4 -3 \\\n -2\ncurv 0 1 1 2\nl 1 2\n`);
const RICH_PLY =
  latin1(`ply\nformat ascii 1.0\nelement vertex 4\nproperty double x\nproperty float y\nproperty float z\nproperty uchar red
property uchar green\nproperty uchar blue\nelement face 3\nproperty list uchar int vertex_indices\nproperty float q\nelement edge 1
property int a\nend_header\n0 0 0 1 2 3\n4 0 0 1 2 3\n4 4 1 1 2 3\n0 4 1.5e-3 1 2 3\n3 0 1 2 5\n4 0 1 2 3 5\n2 0 1 5\n7\n`);

const GLB = writeGlb(glbJson({ nodes: [{ mesh: 0, scale: [-1, 2, 1], rotation: [0, 0, 0, 1] }] }));
const GLB_JSON = encodeAscii(
  JSON.stringify(glbJson({ scenes: [{ nodes: [0, 1] }], nodes: [{ children: [2] }, { mesh: 0 }, { mesh: 0 }] })),
);
const MODEL = encodeAscii(
  modelXml({
    resources: `<object id="1">${TETRAHEDRON}</object><object id="2"><components><component objectid="1"/></components></object>`,
    build: '<item objectid="1"/><item objectid="2" transform="-1 0 0 0 1 0 0 0 1 5 0 0"/>',
  }),
);
const XYZ = encodeAscii(`x y z\n0 0 0\n4.5 0 1e-2\n-4 4 1\n${'1 2 3.5\n'.repeat(6)}`);
const POINTS_CSV = encodeAscii(`X;Y;Z;R;G;B\n${'1.5;-2;3;255;0;12\n'.repeat(8)}`);
const COUNTED = encodeAscii(`6\n${'1.5,2,3\n'.repeat(6)}`);

const SEEDLINGS: readonly [name: string, bytes: Uint8Array, read: typeof readPly][] = [
  ['binary PLY', writePly(GRID), readPly],
  ['ASCII PLY', writePly(GRID, { ascii: true }), readPly],
  ['PLY with everything', RICH_PLY, readPly],
  ['binary STL', writeStl(GRID), readStl],
  ['ASCII STL', ASCII_STL, readStl],
  ['OBJ', writeObj(GRID), readObj],
  ['OBJ with everything', RICH_OBJ, readObj],
  ['binary PLY, format guessed', writePly(GRID), readMesh],
  ['ASCII STL, format guessed', ASCII_STL, readMesh],
  ['GLB', GLB, readGlb],
  ["GLB's JSON", GLB_JSON, (json, name) => readGlb(writeGlb(json), name)],
  ['GLB, format guessed', GLB, readMesh],
  ['3MF', write3mf(MODEL), read3mf],
  ["3MF's model", MODEL, (model, name) => read3mf(write3mf(model, true), name)],
  ['3MF stored, format guessed', write3mf(MODEL, true), readMesh],
  ['XYZ', XYZ, readXyz],
  ['points with semicolons and colours', POINTS_CSV, readXyz],
  ['points with their number, format guessed', COUNTED, readMesh],
];

describe('mutated files', () => {
  for (const [name, bytes, read] of SEEDLINGS) {
    it(`${name}: refused or a sound mesh, ${MUTATIONS} mutations, seed ${SEED}`, () => {
      const random = mulberry32(SEED);
      const tally = { read: 0, refused: 0 };
      for (let i = 0; i < MUTATIONS; i++) tally[outcome(mutate(bytes, random), read)]++;
      // Neither side empty, or the sweep would show nothing.
      expect(tally.read).toBeGreaterThan(10);
      expect(tally.refused).toBeGreaterThan(100);
    });
  }
});

function outcome(bytes: Uint8Array, read: typeof readPly): 'read' | 'refused' {
  try {
    const { mesh, colours, kind } = read(bytes, 'mutant.ply');
    expect(mesh.positions.every(Number.isFinite)).toBe(true);
    expect(mesh.triangles.every((index) => index < mesh.positions.length / 3)).toBe(true);
    expect(mesh.triangles.length > 0).toBe(kind === 'mesh');
    expect(mesh.positions.length).toBeGreaterThan(0);
    // A file of this size can't hold more: the smallest face of all is "f 1 2 3" cut up by a fan.
    expect(mesh.triangles.length).toBeLessThan(3 * LARGEST_BYTES);
    if (colours !== null) expect(colours.length).toBe(mesh.positions.length);
    return 'read';
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    expect(error.details).toMatchObject({ file: 'mutant.ply', field: expect.any(String), got: expect.any(String) });
    expect(error.details.remedy.length).toBeGreaterThan(0);
    return 'refused';
  }
}

/** One to four changes: cut, byte set, byte's bit turned, piece copied elsewhere, number in the text replaced. */
function mutate(source: Uint8Array, random: () => number): Uint8Array {
  let bytes: Uint8Array = source.slice(0, LARGEST_BYTES);
  const below = (n: number) => Math.floor(random() * n);
  for (let changes = 1 + below(4); changes > 0; changes--) {
    const at = below(bytes.length);
    const kind = below(8);
    if (kind === 0) bytes = bytes.slice(0, at + 1);
    else if (kind === 1) bytes[at] = below(256);
    else if (kind === 2) bytes[at] ^= 1 << below(8);
    else if (kind === 3) bytes = splice(bytes, at, bytes.slice(below(bytes.length)).slice(0, below(64)));
    else if (kind === 4) bytes = Uint8Array.of(...bytes.subarray(0, at), ...bytes.subarray(at + 1 + below(16)));
    else bytes = editNumber(bytes, at, random);
    if (bytes.length === 0) bytes = Uint8Array.of(below(256));
  }
  return bytes.slice(0, LARGEST_BYTES);
}

function splice(bytes: Uint8Array, at: number, piece: Uint8Array): Uint8Array {
  return Uint8Array.of(...bytes.subarray(0, at), ...piece, ...bytes.subarray(at));
}

const NUMBERS = '0 1 2 3 4 5 7 255 256 -1 1e38 nan 1e999 2147483648 4294967295 99999999 1.5 0.1 00 1,5 1e-400'.split(
  ' ',
);

/** Replaces the first run of digits at or behind `at`. */
function editNumber(bytes: Uint8Array, at: number, random: () => number): Uint8Array {
  const isDigit = (byte: number) => byte >= 48 && byte <= 57;
  const start = bytes.findIndex((byte, i) => i >= at && isDigit(byte));
  if (start < 0) return bytes;
  const length = bytes.subarray(start).findIndex((byte) => !isDigit(byte));
  const text = latin1(NUMBERS[Math.floor(random() * NUMBERS.length)]);
  return Uint8Array.of(...bytes.subarray(0, start), ...text, ...(length < 0 ? [] : bytes.subarray(start + length)));
}

function grid(n: number) {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (let i = 0; i <= n; i++) for (let j = 0; j <= n; j++) positions.push(i * 7.3, j * 6.1, Math.sin(i + 2 * j));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const v = i * (n + 1) + j;
      triangles.push(v, v + n + 1, v + n + 2, v, v + n + 2, v + 1);
    }
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}
