import { describe, expect, it } from 'vitest';
import { InputError, type InputErrorCode } from '../numeric/input-error.ts';
import { type RawMesh, readMesh, readObj, readPly, readStl, writePly, writeStl } from './index.ts';

const latin1 = (text: string) => Uint8Array.from(text, (c) => c.charCodeAt(0));
const TRIANGLE = { positions: Float64Array.of(0, 0, 0, 4, 0, 0, 0, 5, 1), triangles: Uint32Array.of(0, 1, 2) };
const STL = writeStl(TRIANGLE);
const PLY = writePly(TRIANGLE);

interface PlyParts {
  format?: string;
  vertices?: number;
  props?: string;
  faces?: number;
  list?: string;
  body?: string;
}

function ply({ format, vertices, props, faces, list, body }: PlyParts = {}): string {
  const header = `ply\nformat ${format ?? 'ascii 1.0'}\nelement vertex ${vertices ?? 3}\n`;
  const xyz = props ?? 'property float x\nproperty float y\nproperty float z\n';
  const face = `element face ${faces ?? 1}\nproperty list ${list ?? 'uchar int'} vertex_indices\nend_header\n`;
  return `${header}${xyz}${face}${body ?? '0 0 0\n4 0 0\n0 5 1\n3 0 1 2\n'}`;
}

/** Little-endian binary PLY of three points, with the given bytes as its faces. */
function binaryPly(faces: number, list: string, faceBytes: readonly number[]): Uint8Array {
  const head = latin1(ply({ format: 'binary_little_endian 1.0', faces, list, body: '' }));
  const points = new Uint8Array(Float32Array.of(0, 0, 0, 4, 0, 0, 0, 5, 1).buffer);
  return Uint8Array.of(...head, ...points, ...faceBytes);
}

function patched(bytes: Uint8Array, change: (view: DataView) => void): Uint8Array {
  const copy = bytes.slice();
  change(new DataView(copy.buffer));
  return copy;
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  return Uint8Array.of(...a, ...b);
}

const ASCII_STL = `solid a b
 facet normal 0 0 1
  outer loop
   vertex 0 0 0
   vertex 4 0 0
   vertex 0 5 1
  endloop
 endfacet
endsolid a b
`;
const V = 'v 0 0 0\nv 4 0 0\nv 0 5 1\n';

/** Row numbers are those of the list of hostile inputs that these were drawn from; common practice, no source. */
const REFUSED: readonly [name: string, file: string, content: Uint8Array | string, code: InputErrorCode][] = [
  ['1 empty', 'a.ply', '', 'empty'],
  ['1 empty', 'a.stl', '', 'empty'],
  ['1 one byte', 'a.ply', 'p', 'truncated'],
  ['1 one byte', 'a.stl', 'x', 'truncated'],
  ['1 one byte', 'a.obj', 'v', 'truncated'],
  ['1 one byte, no ending', 'a', 'x', 'unsupported'],
  ['1 header cut off', 'a.ply', ply().slice(0, 60), 'truncated'],
  ['1 header only', 'a.ply', ply({ body: '' }), 'truncated'],
  ['1 header only, no vertices', 'a.ply', ply({ vertices: 0, faces: 0, body: '' }), 'empty'],
  ['1 header only', 'a.stl', STL.slice(0, 80), 'truncated'],
  ['1 comment only', 'a.obj', '# nothing\n', 'empty'],
  ['2 count 0', 'a.stl', patched(STL, (v) => v.setUint32(80, 0, true)).slice(0, 84), 'empty'],
  ['3 count 2^32 - 1', 'a.stl', patched(STL, (v) => v.setUint32(80, 2 ** 32 - 1, true)), 'truncated'],
  ['4 count above the real one', 'a.stl', patched(STL, (v) => v.setUint32(80, 2, true)), 'truncated'],
  ['5 cut within a facet', 'a.stl', STL.slice(0, 110), 'truncated'],
  ['5 cut within a facet', 'b.stl', ASCII_STL.slice(0, 80), 'truncated'],
  ['5 cut within a face', 'a.ply', PLY.slice(0, -5), 'truncated'],
  ['7 decimal commas', 'a.stl', ASCII_STL.replace('4 0 0', '4,0 0,0 0,0'), 'syntax'],
  ['7 decimal commas', 'a.ply', ply({ body: '0 0 0\n4,5 0 0\n0 5 1\n3 0 1 2\n' }), 'syntax'],
  ['7 decimal commas', 'a.obj', `v 0,5 0 0\n${V}f 1 2 3\n`, 'syntax'],
  ['9 NaN', 'a.stl', patched(STL, (v) => v.setFloat32(96, Number.NaN, true)), 'not-a-number'],
  ['9 NaN', 'b.stl', ASCII_STL.replace('4 0 0', 'nan 0 0'), 'not-a-number'],
  ['9 NaN', 'a.ply', ply({ body: '0 0 0\nnan 0 0\n0 5 1\n3 0 1 2\n' }), 'not-a-number'],
  ['9 NaN', 'a.obj', `${V.replace('4', 'NaN')}f 1 2 3\n`, 'not-a-number'],
  ['9 infinity', 'a.ply', ply({ body: '0 0 0\n-Infinity 0 0\n0 5 1\n3 0 1 2\n' }), 'not-a-number'],
  ['9 infinity', 'b.ply', patched(PLY, (v) => v.setFloat32(PLY.length - 13 - 36, Infinity, true)), 'not-a-number'],
  ['9 1e38', 'a.ply', ply({ body: '0 0 0\n1e38 0 0\n0 5 1\n3 0 1 2\n' }), 'out-of-range'],
  ['9 1e38', 'b.ply', patched(PLY, (v) => v.setFloat32(PLY.length - 13 - 12, -1e38, true)), 'out-of-range'],
  ['9 1e38', 'a.stl', patched(STL, (v) => v.setFloat32(96, 1e38, true)), 'out-of-range'],
  ['9 1e38', 'a.obj', `${V.replace('4', '1e38')}f 1 2 3\n`, 'out-of-range'],
  ['9 1e999', 'b.obj', `${V.replace('4', '1e999')}f 1 2 3\n`, 'not-a-number'],
  ['21 unknown format', 'a.ply', ply({ format: 'binary_middle_endian 1.0' }), 'unsupported'],
  ['21 format version', 'a.ply', ply({ format: 'ascii 2.0' }), 'unsupported'],
  ['21 no format', 'a.ply', ply().replace('format ascii 1.0\n', ''), 'missing'],
  ['21 the other byte order', 'a.ply', latin1(String.fromCharCode(...PLY).replace('little', 'big')), 'out-of-range'],
  ['22 list count 255', 'a.ply', binaryPly(1, 'uchar int', [255, 0, 0, 0, 0, 1, 0, 0, 0, 2, 0, 0, 0]), 'truncated'],
  ['22 list count negative', 'a.ply', binaryPly(1, 'char int', [253, 0, 0, 0, 0, 1, 0, 0, 0, 2, 0, 0, 0]), 'malformed'],
  ['22 list count huge', 'a.ply', binaryPly(1, 'uint int', [255, 255, 255, 255, 0, 0, 0, 0]), 'truncated'],
  ['22 list count huge', 'b.ply', ply({ body: '0 0 0\n4 0 0\n0 5 1\n999999999 0 1 2\n' }), 'truncated'],
  ['22 list count a float', 'a.ply', ply({ list: 'float int' }), 'wrong-type'],
  [
    '22 no z',
    'a.ply',
    ply({ props: 'property float x\nproperty float y\n', body: '0 0\n4 0\n0 5\n3 0 1 2\n' }),
    'missing',
  ],
  ['22 2e9 vertices, 3 lines', 'a.ply', ply({ vertices: 2_000_000_000 }), 'too-large'],
  ['22 5e7 vertices, 3 lines', 'a.ply', ply({ vertices: 50_000_000 }), 'truncated'],
  ['22 15e6 faces, 1 line', 'a.ply', ply({ faces: 15_000_000 }), 'truncated'],
  [
    '22 1e9 entries without properties',
    'a.ply',
    ply().replace('element face', 'element x 999999999\nelement face'),
    'malformed',
  ],
  ['22 index out of range', 'a.ply', ply({ body: '0 0 0\n4 0 0\n0 5 1\n3 0 1 3\n' }), 'out-of-range'],
  ['22 index negative', 'a.ply', ply({ body: '0 0 0\n4 0 0\n0 5 1\n3 0 1 -2\n' }), 'malformed'],
  ['22 only faces of 2', 'a.ply', ply({ body: '0 0 0\n4 0 0\n0 5 1\n2 0 1\n' }), 'empty'],
  ['22 short line', 'a.ply', ply({ body: '0 0 0\n4 0\n0 5 1\n3 0 1 2\n' }), 'truncated'],
  ['22 long line', 'a.ply', ply({ body: '0 0 0 9\n4 0 0\n0 5 1\n3 0 1 2\n' }), 'malformed'],
  ['22 triangle strips', 'a.ply', ply().replace('element face', 'element tristrips'), 'unsupported'],
  ['23 index 0', 'a.obj', `${V}f 0 1 2\n`, 'out-of-range'],
  ['23 index above n', 'a.obj', `${V}f 1 2 4\n`, 'out-of-range'],
  ['23 index below -n', 'a.obj', `${V}f -4 2 3\n`, 'out-of-range'],
  ['23 corner not a number', 'a.obj', `${V}f 1/x 2 3\n`, 'syntax'],
  ['23 points only', 'a.obj', V, 'unsupported'],
];

describe('hostile files are refused by file, place, finding and remedy', () => {
  for (const [name, file, content, code] of REFUSED) {
    it(`${name}, ${file}: ${code}`, () => {
      const bytes = typeof content === 'string' ? latin1(content) : content;
      const error = refusal(() => readMesh(bytes, `some/folder/${file}`));
      expect({ code: error.code, file: error.details.file }).toEqual({ code, file });
      const { field = '', got = '', expected, remedy } = error.details;
      for (const part of [field, got, expected, remedy]) expect(part.length).toBeGreaterThan(0);
    });
  }

  it('says which vertex is not a number, in each format', () => {
    const binary = patched(PLY, (v) => v.setFloat32(PLY.length - 13 - 12, Number.NaN, true));
    expect(refusal(() => readPly(binary, 'a.ply')).details.field).toBe('vertex 2');
    const text = latin1(`${V.replace('5', 'inf')}f 1 2 3`);
    expect(refusal(() => readObj(text, 'a.obj')).details.field).toBe('vertex 3, line 3');
  });

  it('25 more triangles or bytes than the budget', () => {
    const limits = { maxBytes: 100, maxTriangles: 5 };
    expect(refusal(() => readPly(latin1(ply({ faces: 6 })), 'a.ply', { ...limits, maxBytes: 1e6 })).code).toBe(
      'too-large',
    );
    expect(refusal(() => readStl(STL, 'a.stl', limits)).code).toBe('too-large');
    const fan = `${V}${'f 1 2 3\n'.repeat(6)}`;
    expect(refusal(() => readObj(latin1(fan), 'a.obj', { ...limits, maxBytes: 1e6 })).code).toBe('too-large');
  });
});

describe('odd files that are read all the same', () => {
  const POINTS = [...TRIANGLE.positions];
  const READ: readonly [name: string, file: string, content: Uint8Array | string, warning: RegExp | null][] = [
    ['4 trailing bytes', 'a.stl', joined(STL, Uint8Array.of(1, 2, 3)), /3 bytes after the last facet/],
    ['4 trailing bytes', 'a.ply', joined(PLY, Uint8Array.of(1, 2, 3)), /3 bytes after the last element/],
    ['6 binary that begins with solid', 'a.stl', joined(latin1('solid facet '), STL.slice(12)), null],
    ['7 without endsolid', 'a.stl', ASCII_STL.slice(0, ASCII_STL.indexOf('endsolid')), /"endsolid" is missing/],
    ['7 upper case', 'a.stl', ASCII_STL.toUpperCase(), null],
    ['7 CR LF', 'a.stl', ASCII_STL.replaceAll('\n', '\r\n'), null],
    ['7 CR', 'a.stl', ASCII_STL.replaceAll('\n', '\r'), null],
    ['7 tabs', 'a.stl', ASCII_STL.replaceAll(' ', '\t'), null],
    ['8 zero normals', 'a.stl', patched(STL, (v) => new Uint8Array(v.buffer, 84, 12).fill(0)), null],
    ['9 denormal', 'a.ply', ply({ body: '0 0 0\n4 0 0\n0 5 1\n3 0 1 2' }).replace('0 0 0', '0 0 0.0e-320'), null],
    ['21 CR LF', 'a.ply', ply().replaceAll('\n', '\r\n'), null],
    ['22 double', 'a.ply', ply().replaceAll('float', 'double'), null],
    ['22 uchar coordinates', 'a.ply', ply().replaceAll('float', 'uchar'), null],
    [
      '22 faces of 0 and 2',
      'a.ply',
      ply({ faces: 3, body: '0 0 0\n4 0 0\n0 5 1\n0\n3 0 1 2\n2 0 1\n' }),
      /2 faces with fewer/,
    ],
    ['23 v/vt/vn in any mix', 'a.obj', `${V}vt 0 0\nvn 0 0 1\nf 1/1/1 2//1 3/1\n`, null],
    ['23 negative indices', 'a.obj', `${V}f -3 -2 -1\n`, null],
    ['23 line continuation', 'a.obj', `${V}f 1 \\\n2 \\\r\n3\n`, null],
    ['23 names with spaces', 'a.obj', `mtllib my file.mtl\no a horse\n${V}g left side\nf 1 2 3`, null],
    ['23 free-form curve', 'a.obj', `${V}cstype bezier\ncurv 0 1 1 2 3\nend\nf 1 2 3\n`, /3 free-form lines/],
    ['23 comment behind a line', 'a.obj', `${V}f 1 2 3 # one\n`, null],
    ['68 PLY named stl', 'a.stl', PLY, /read as PLY by its content/],
    ['68 STL without an ending', 'scan', STL, /read as STL by its content/],
    ['68 OBJ named ply', 'a.PLY', `${V}f 1 2 3\n`, /read as OBJ by its content/],
  ];
  for (const [name, file, content, warning] of READ) {
    it(`${name}, ${file}`, () => {
      const raw = readMesh(typeof content === 'string' ? latin1(content) : content, file);
      expect([...raw.mesh.positions]).toEqual(POINTS);
      expect([...raw.mesh.triangles]).toEqual([0, 1, 2]);
      expect(raw.warnings.length).toBe(warning === null ? 0 : 1);
      if (warning !== null) expect(raw.warnings[0]).toMatch(warning);
    });
  }

  it('21 big-endian PLY', () => {
    const head = latin1(ply({ format: 'binary_big_endian 1.0', body: '' }));
    const body = new DataView(new ArrayBuffer(36 + 13));
    for (const [i, value] of POINTS.entries()) body.setFloat32(4 * i, value);
    body.setUint8(36, 3);
    for (const [i, value] of [2, 0, 1].entries()) body.setInt32(37 + 4 * i, value);
    const { mesh } = readPly(joined(head, new Uint8Array(body.buffer)), 'a.ply');
    expect([...mesh.positions]).toEqual(POINTS);
    expect([...mesh.triangles]).toEqual([2, 0, 1]);
  });

  it('22 binary faces of 3, 4 and 2 corners after one another', () => {
    const corners = (...list: number[]) => [list.length, ...list.flatMap((i) => [i, 0, 0, 0])];
    const bytes = binaryPly(4, 'uchar uint', [
      ...corners(0, 1, 2),
      ...corners(0, 1, 2, 1),
      ...corners(0, 1),
      ...corners(2, 1, 0),
    ]);
    const raw = readPly(bytes, 'a.ply');
    expect([...raw.mesh.triangles.slice(0, 3)]).toEqual([0, 1, 2]);
    expect([...raw.mesh.triangles.slice(-3)]).toEqual([2, 1, 0]);
    expect(raw.mesh.triangles.length).toBe(12);
    expect(raw.warnings.length).toBe(2);
  });

  it('22 further properties, colours and elements around what we use', () => {
    const text = `ply
format ascii 1.0
comment made by hand
element note 1
property list uchar float weights
element vertex 3
property float nx
property double z
property float y
property uchar red
property uchar green
property uchar blue
property float x
element face 1
property uchar flag
property list uchar int vertex_index
property list uchar float texcoord
end_header
2 0.5 0.25
9 0 0 255 0 7 0
9 0 0 1 2 3 4
9 1 5 4 5 6 0
7 3 0 1 2 6 0 0 0 0 0 0
`;
    const raw = readPly(latin1(text), 'a.ply');
    expect([...raw.mesh.positions]).toEqual(POINTS);
    expect([...(raw.colours ?? [])]).toEqual([255, 0, 7, 1, 2, 3, 4, 5, 6]);
  });

  it('23 colours behind the coordinates', () => {
    const raw = readObj(latin1('v 0 0 0 1 0 0\nv 4 0 0 0 0.5 0\nv 0 5 1 0 0 1\nf 1 2 3'), 'a.obj');
    expect([...(raw.colours ?? [])]).toEqual([255, 0, 0, 0, 128, 0, 0, 0, 255]);
  });

  it('23 a concave polygon keeps its area, 8 by hand, from whichever corner it starts', () => {
    // A fan from a wing: two of the four fans would leave the arrowhead.
    const arrow = 'v 0 2 0\nv -4 -2 0\nv 0 0 0\nv 4 -2 0\n';
    for (const start of [0, 1, 2, 3]) {
      const order = [0, 1, 2, 3].map((i) => ((i + start) % 4) + 1).join(' ');
      expect(signedAreas(readObj(latin1(`${arrow}f ${order}`), 'a.obj'))).toEqual([4, 4]);
    }
  });

  it('10 coordinates far from the origin bring a warning about single precision', () => {
    const far = ply({ body: '10000000 0 0\n10000004 0 0\n10000000 5 1\n3 0 1 2\n' });
    expect(readPly(latin1(far), 'a.ply').warnings[0]).toMatch(/far from its origin/);
  });

  it('numbers are read as Number() reads them', () => {
    const words = [
      '0.1',
      '123.456789',
      '1e-5',
      '-2.5E+3',
      '.5',
      '7.',
      '0.30000000000000004',
      '9007199254740993',
      '+4.35',
    ];
    const body = `${words.slice(0, 3).join(' ')}\n${words.slice(3, 6).join(' ')}\n${words.slice(6, 7)} 4.35 0\n3 0 1 2\n`;
    const { positions } = readPly(latin1(ply({ body })), 'a.ply').mesh;
    expect([...positions]).toEqual([...words.slice(0, 7), '4.35', '0'].map(Number));
  });
});

function refusal(read: () => unknown): InputError {
  try {
    read();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('was read without a refusal');
}

/** Areas in the xy plane, counter-clockwise positive. */
function signedAreas({ mesh: { positions: p, triangles: t } }: RawMesh): number[] {
  const areas: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
    areas.push(((p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a])) / 2);
  }
  return areas;
}
