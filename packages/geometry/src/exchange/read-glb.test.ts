import { describe, expect, it } from 'vitest';
import { InputError, type InputErrorCode } from '../numeric/input-error.ts';
import { encodeAscii } from './ascii-bytes.ts';
import { GLB_BIN, GLB_INDICES, GLB_POSITIONS, glbJson, writeGlb } from './glb.fixture.ts';
import { type RawMesh, readGlb, readMesh } from './index.ts';

type Json = Record<string, unknown>;
const IDENTITY = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];
const PLAIN = glbJson();

function read(changes: Json = {}, bin: Uint8Array = GLB_BIN): RawMesh {
  return readMesh(writeGlb(glbJson(changes), bin), 'a.glb');
}

const primitive = (changes: Json) => ({ meshes: [{ primitives: [{ attributes: { POSITION: 0 }, ...changes }] }] });

function accessors(at: number, changes: Json): Json {
  return { accessors: (PLAIN.accessors as Json[]).map((entry, i) => (i === at ? { ...entry, ...changes } : entry)) };
}

function views(at: number, changes: Json): Json {
  return {
    bufferViews: (PLAIN.bufferViews as Json[]).map((entry, i) => (i === at ? { ...entry, ...changes } : entry)),
  };
}

describe('a GLB written here comes back', () => {
  it('positions and faces as they were, in metres with +y up, no warning', () => {
    const raw = read();
    expect(raw).toMatchObject({ kind: 'mesh', format: 'glb', statedUnit: 'm', statedUp: '+y', warnings: [] });
    expect([...raw.mesh.positions]).toEqual(GLB_POSITIONS);
    expect([...raw.mesh.triangles]).toEqual(GLB_INDICES);
  });

  for (const [bytes, accessor] of [
    [1, 1],
    [2, 2],
    [4, 3],
  ]) {
    it(`indices of ${bytes} bytes give the same faces`, () => {
      expect([...read(primitive({ indices: accessor })).mesh.triangles]).toEqual(GLB_INDICES);
    });
  }

  it('a strip is turned corner by corner, a fan about its first; without indices in order', () => {
    expect([...read(primitive({ mode: 5 })).mesh.triangles]).toEqual([0, 1, 2, 1, 3, 2]);
    expect([...read(primitive({ mode: 6 })).mesh.triangles]).toEqual([0, 1, 2, 0, 2, 3]);
    const three = { ...primitive({}), ...accessors(0, { count: 3 }) };
    expect([...read(three).mesh.triangles]).toEqual([0, 1, 2]);
  });

  it('points alone are a cloud; beside faces they are left out and said so', () => {
    const cloud = read(primitive({ mode: 0 }));
    expect({ kind: cloud.kind, points: cloud.mesh.positions.length / 3 }).toEqual({ kind: 'points', points: 4 });
    const both = {
      primitives: [
        { attributes: { POSITION: 0 }, mode: 0 },
        { attributes: { POSITION: 0 }, indices: 2 },
      ],
    };
    const raw = read({ meshes: [both] });
    expect([raw.kind, raw.mesh.positions.length, raw.warnings.length]).toEqual(['mesh', 12, 1]);
  });

  it('interleaved positions are read by their stride, from an offset', () => {
    const bin = new Uint8Array(92 + 4 * 20);
    const view = new DataView(bin.buffer);
    bin.set(GLB_BIN);
    GLB_POSITIONS.forEach((value, i) => {
      view.setFloat32(92 + 20 * Math.floor(i / 3) + 8 + 4 * (i % 3), value, true);
    });
    const bufferViews = [
      ...(PLAIN.bufferViews as Json[]),
      { buffer: 0, byteOffset: 92, byteLength: 80, byteStride: 20 },
    ];
    const changes = { ...accessors(0, { bufferView: 4, byteOffset: 8 }), bufferViews, buffers: [{ byteLength: 172 }] };
    expect([...read(changes, bin).mesh.positions]).toEqual(GLB_POSITIONS);
  });

  it('sparse values take the place of stored ones, or of zeros', () => {
    const bin = new Uint8Array(92 + 4 + 12);
    const view = new DataView(bin.buffer);
    bin.set(GLB_BIN);
    bin[92] = 2;
    [7, 8, 9].forEach((value, k) => {
      view.setFloat32(96 + 4 * k, value, true);
    });
    const bufferViews = [
      ...(PLAIN.bufferViews as Json[]),
      { buffer: 0, byteOffset: 92, byteLength: 1 },
      { buffer: 0, byteOffset: 96, byteLength: 12 },
    ];
    const sparse = { count: 1, indices: { bufferView: 4, componentType: 5121 }, values: { bufferView: 5 } };
    const rest = { bufferViews, buffers: [{ byteLength: 108 }] };
    const over = read({ ...accessors(0, { sparse }), ...rest }, bin).mesh.positions;
    expect([...over]).toEqual([...GLB_POSITIONS.slice(0, 6), 7, 8, 9, ...GLB_POSITIONS.slice(9)]);
    const bare = read({ ...accessors(0, { sparse, bufferView: undefined }), ...rest }, bin).mesh.positions;
    expect([...bare]).toEqual([0, 0, 0, 0, 0, 0, 7, 8, 9, 0, 0, 0]);
  });

  it('nodes are placed by matrix or by translation, rotation and scale alike', () => {
    // A quarter turn about z, then twice as large along x, moved: (x, y, z) -> (-y + 10, 2 x, z).
    const half = Math.SQRT1_2;
    const parts = { translation: [10, 0, 0], rotation: [0, 0, half, half], scale: [2, 1, 1] };
    const matrix = [0, 2, 0, 0, -1, 0, 0, 0, 0, 0, 1, 0, 10, 0, 0, 1];
    const a = read({ nodes: [{ mesh: 0, ...parts }] }).mesh.positions;
    const b = read({ nodes: [{ mesh: 0, matrix }] }).mesh.positions;
    expect([...b.subarray(3, 6)]).toEqual([10, 8, 0.5]);
    a.forEach((value, i) => {
      expect(value).toBeCloseTo(b[i], 12);
    });
  });

  it('a mirrored node turns its faces round, twice mirrored turns them back', () => {
    const once = read({ nodes: [{ mesh: 0, scale: [-1, 1, 1] }] }).mesh;
    expect([...once.triangles]).toEqual([0, 2, 1, 0, 3, 2]);
    const twice = read({
      nodes: [
        { children: [1], scale: [-1, 1, 1] },
        { mesh: 0, scale: [1, -1, 1] },
      ],
    }).mesh;
    expect([...twice.triangles]).toEqual(GLB_INDICES);
    expect([...twice.positions.subarray(6, 9)]).toEqual([-4, -3, 1]);
  });

  it('children, several scenes and meshes are joined; nodes that no scene shows are not', () => {
    const nodes = [
      { translation: [1, 0, 0], children: [1] },
      { mesh: 0, translation: [0, 2, 0] },
      { mesh: 0 },
      { mesh: 0, translation: [9, 9, 9] },
    ];
    const { mesh, warnings } = read({ nodes, scenes: [{ nodes: [0] }, { nodes: [0, 2] }] });
    expect([...mesh.positions.subarray(0, 3), ...mesh.positions.subarray(12, 15)]).toEqual([1, 2, 0, 0, 0, 0]);
    expect([...mesh.triangles]).toEqual([...GLB_INDICES, ...GLB_INDICES.map((index) => index + 4)]);
    expect(warnings).toEqual(['All scenes of the file were read as one.']);
  });

  it('JSON padded with zeros, bytes after the end and a wrong name bring a warning each', () => {
    const json = encodeAscii(`${JSON.stringify(PLAIN)}${' '.repeat(3 - ((JSON.stringify(PLAIN).length + 3) % 4))}`);
    const odd = json.length % 4 === 0 ? Uint8Array.of(...json, 32) : json;
    const bytes = Uint8Array.of(...writeGlb(odd, GLB_BIN, 0), 1, 2);
    const raw = readMesh(bytes, 'a.stl');
    expect(raw.warnings.map((text) => text.slice(0, 20))).toEqual([
      'a.stl was read as GL',
      '2 bytes after the en',
      'The JSON chunk was p',
    ]);
  });
});

function patched(change: (view: DataView) => void): Uint8Array {
  const bytes = writeGlb(PLAIN);
  change(new DataView(bytes.buffer));
  return bytes;
}

function nested(levels: number): Json {
  const nodes: Json[] = Array.from({ length: levels }, (_, i) => ({ children: [i + 1] }));
  return { nodes: [...nodes, { mesh: 0 }] };
}

const NAN_BIN = GLB_BIN.slice();
new DataView(NAN_BIN.buffer).setFloat32(16, Number.NaN, true);
const FAR_BIN = GLB_BIN.slice();
new DataView(FAR_BIN.buffer).setFloat32(16, 1e38, true);
const unbacked = (count: number) => ({
  ...accessors(0, {
    bufferView: undefined,
    count,
    sparse: { count: 1, indices: { bufferView: 1, componentType: 5121 }, values: { bufferView: 3 } },
  }),
});

/** Row 66 of the list of hostile inputs that these were drawn from; common practice, no source. */
const REFUSED: readonly [name: string, content: Json | Uint8Array, code: InputErrorCode, bin?: Uint8Array][] = [
  ['header only', encodeAscii('glTF\x02\0\0\0\x0c\0\0\0'), 'truncated'],
  ['version 1', patched((v) => v.setUint32(4, 1, true)), 'unsupported'],
  ['length above the real one', patched((v) => v.setUint32(8, v.byteLength + 4, true)), 'truncated'],
  ['length 0', patched((v) => v.setUint32(8, 0, true)), 'malformed'],
  ['length 2^32 - 1', patched((v) => v.setUint32(8, 2 ** 32 - 1, true)), 'truncated'],
  ['JSON chunk longer than the file', patched((v) => v.setUint32(12, 2 ** 32 - 4, true)), 'truncated'],
  ['JSON chunk length not of 4', patched((v) => v.setUint32(12, v.getUint32(12, true) - 1, true)), 'malformed'],
  ['BIN chunk first', patched((v) => v.setUint32(16, 0x004e4942, true)), 'malformed'],
  ['cut short', writeGlb(PLAIN).slice(0, -10), 'truncated'],
  ['JSON of blanks', writeGlb(encodeAscii('        ')), 'malformed'],
  ['JSON a list', writeGlb(encodeAscii('[1,2]   ')), 'malformed'],
  ['duplicate keys', writeGlb(encodeAscii('{"asset":1,"asset":2}')), 'duplicate-key'],
  ['a key that reaches the prototype', writeGlb(encodeAscii('{"__proto__":{"a":1}}')), 'forbidden'],
  ['no asset', { asset: undefined }, 'wrong-type'],
  ['glTF 1', { asset: { version: '1.0' } }, 'unsupported'],
  ['external .bin', { buffers: [{ byteLength: 92, uri: 'horse.bin' }] }, 'path'],
  ['external, up a folder', { buffers: [{ byteLength: 92, uri: '../../horse.bin' }] }, 'path'],
  ['data: address', { buffers: [{ byteLength: 92, uri: 'data:application/octet-stream;base64,AA==' }] }, 'unsupported'],
  ['Draco', { extensionsRequired: ['KHR_draco_mesh_compression'] }, 'unsupported'],
  ['meshopt', { extensionsRequired: ['EXT_meshopt_compression'] }, 'unsupported'],
  ['an unknown extension', { extensionsRequired: ['EXT_mesh_gpu_instancing'] }, 'unsupported'],
  ['4 billion vertices', accessors(0, { count: 4_000_000_000 }), 'too-large'],
  ['50 million vertices', accessors(0, { count: 50_000_000 }), 'truncated'],
  ['50 million vertices that nothing stands behind', unbacked(50_000_000), 'too-large'],
  ['4 billion indices', accessors(2, { count: 4_000_000_000 }), 'too-large'],
  ['count 0', accessors(0, { count: 0 }), 'wrong-type'],
  ['count 1.5', accessors(0, { count: 1.5 }), 'wrong-type'],
  ['count -1', accessors(0, { count: -1 }), 'wrong-type'],
  ['byteOffset beyond the view', accessors(0, { byteOffset: 8 }), 'truncated'],
  ['byteOffset 2^53', accessors(0, { byteOffset: 2 ** 53 }), 'wrong-type'],
  ['byteStride 8', views(0, { byteStride: 8 }), 'out-of-range'],
  ['byteStride 1000', views(0, { byteStride: 1000 }), 'out-of-range'],
  ['view beyond the BIN chunk', views(0, { byteLength: 4_000_000_000 }), 'truncated'],
  ['BIN chunk shorter than its buffer', {}, 'truncated', GLB_BIN.slice(0, 60)],
  ['accessor that is not there', primitive({ indices: 9 }), 'out-of-range'],
  ['positions as indices', primitive({ indices: 0 }), 'unsupported'],
  ['positions of bytes', accessors(0, { componentType: 5121 }), 'unsupported'],
  ['index beyond the vertices', accessors(0, { count: 3 }), 'out-of-range'],
  ['5 corners', accessors(2, { count: 5 }), 'malformed'],
  ['mode 9', primitive({ mode: 9 }), 'out-of-range'],
  ['lines only', primitive({ mode: 1 }), 'empty'],
  ['no mesh shown', { scenes: [{ nodes: [] }] }, 'empty'],
  ['NaN', {}, 'not-a-number', NAN_BIN],
  ['1e38', {}, 'out-of-range', FAR_BIN],
  ['a node its own child', { nodes: [{ mesh: 0 }, { children: [1] }] }, 'cycle'],
  ['a loop of two', { nodes: [{ mesh: 0 }, { children: [2] }, { children: [1] }] }, 'cycle'],
  ['two parents', { nodes: [{ children: [2] }, { children: [2] }, { mesh: 0 }] }, 'malformed'],
  ['a scene that shows a child', { nodes: [{ mesh: 0 }, { children: [0] }] }, 'malformed'],
  ['300 levels of nodes', nested(300), 'too-large'],
  ['flattened', { nodes: [{ mesh: 0, scale: [1, 0, 1] }] }, 'degenerate'],
  ['rotation of length 0', { nodes: [{ mesh: 0, rotation: [0, 0, 0, 0] }] }, 'out-of-range'],
  ['matrix and scale', { nodes: [{ mesh: 0, matrix: IDENTITY, scale: [1, 1, 1] }] }, 'inconsistent'],
  ['matrix with perspective', { nodes: [{ mesh: 0, matrix: [...IDENTITY.slice(0, 15), 2] }] }, 'malformed'],
  ['matrix of 15', { nodes: [{ mesh: 0, matrix: IDENTITY.slice(1) }] }, 'wrong-type'],
  ['moved out of range', { nodes: [{ mesh: 0, translation: [1e30, 0, 0] }] }, 'out-of-range'],
  ['a skin', { nodes: [{ mesh: 0, skin: 0 }] }, 'unsupported'],
];

describe('66 hostile GLB files are refused by file, place, finding and remedy', () => {
  for (const [name, content, code, bin] of REFUSED) {
    it(`${name}: ${code}`, () => {
      const bytes = content instanceof Uint8Array ? content : writeGlb(glbJson(content), bin);
      const error = refusal(() => readMesh(bytes, 'some/folder/a.glb'));
      expect({ code: error.code, file: error.details.file }).toEqual({ code, file: 'a.glb' });
      const { field = '', got = '', expected, remedy } = error.details;
      for (const part of [field, got, expected, remedy]) expect(part.length).toBeGreaterThan(0);
    });
  }

  it('compression is named, and what to do about it', () => {
    const error = refusal(() => read({ extensionsRequired: ['KHR_draco_mesh_compression'] }));
    expect(error.details.got).toContain('KHR_draco_mesh_compression');
    expect(error.details.remedy).toMatch(/without mesh compression/);
  });

  it('glTF as JSON text is refused with its remedy', () => {
    const error = refusal(() => readMesh(encodeAscii(JSON.stringify(PLAIN)), 'a.gltf'));
    expect(error.code).toBe('unsupported');
    expect(error.details.remedy).toMatch(/GLB/);
  });

  it('100,000 nodes deep is refused for its depth, 300,000 copies for their number', () => {
    expect(refusal(() => read(nested(100_000))).code).toBe('too-large');
    const nodes = Array.from({ length: 300_000 }, () => ({ mesh: 0 }));
    expect(refusal(() => read({ nodes, scenes: [] })).code).toBe('too-large');
  });

  it('more triangles or bytes than the budget', () => {
    const bytes = writeGlb(PLAIN);
    expect(refusal(() => readGlb(bytes, 'a.glb', { maxBytes: 1e6, maxTriangles: 1 })).code).toBe('too-large');
    expect(refusal(() => readGlb(bytes, 'a.glb', { maxBytes: 100, maxTriangles: 10 })).code).toBe('too-large');
  });
});

function refusal(work: () => unknown): InputError {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('was read without a refusal');
}
