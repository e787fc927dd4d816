import draco3d from 'draco3d';
import { MeshoptDecoder } from 'meshoptimizer/decoder';
import { MeshoptEncoder } from 'meshoptimizer/encoder';
import { beforeAll, describe, expect, it } from 'vitest';
import { type DracoModule, dracoDecoder } from '../../packages/geometry/src/exchange/draco-decoder.ts';
import { type GlbDecoders, packedFormats } from '../../packages/geometry/src/exchange/glb-decoders.ts';
import { READ_LIMITS } from '../../packages/geometry/src/exchange/raw-mesh.ts';
import { readMesh } from '../../packages/geometry/src/exchange/read-mesh.ts';
import { InputError, seededRandom } from '../../packages/geometry/src/numeric/index.ts';
import { heightMesh } from '../../packages/geometry/src/spatial/mesh.fixture.ts';
import { createDracoPacker, dracoGlb, meshoptGlb, type Part } from '../support/packed-glb.ts';

type Json = Record<string, unknown>;

/** A sheet in metres, single precision as a file has it. */
const SHEET = heightMesh((x, y) => 1.5 - x * x - y * y, [0, 0.6], [-0.2, 0.2], 0.02, 7);
const POSITIONS = Float32Array.from(SHEET.positions);
const INDICES = SHEET.triangles;
const VERTICES = POSITIONS.length / 3;
const BITS = 14;
/** Half a step of the quantisation over the longest side, and what single precision adds. */
const STEP = 0.6 / (2 ** BITS - 1) / 2 + 1e-6;

let decoders: Required<GlbDecoders>;
let encodeDraco: (sequential: boolean) => Uint8Array;

beforeAll(async () => {
  await Promise.all([MeshoptDecoder.ready, MeshoptEncoder.ready]);
  const module = (await draco3d.createDecoderModule({})) as unknown as DracoModule;
  decoders = { draco: dracoDecoder(module), meshopt: MeshoptDecoder.decodeGltfBuffer };
  const pack = await createDracoPacker();
  encodeDraco = (sequential) => pack(POSITIONS, INDICES, BITS, sequential);
});

const dracoFile = (packed: Uint8Array, vertices = VERTICES, corners = INDICES.length): Uint8Array =>
  dracoGlb(packed, vertices, corners);

const bytesOf = (list: Float32Array | Uint32Array | Int16Array): Uint8Array =>
  new Uint8Array(list.buffer, list.byteOffset, list.byteLength);

const FLOATS = { bufferView: 0, componentType: 5126, count: VERTICES, type: 'VEC3' };
const CORNERS = { bufferView: 1, componentType: 5125, count: INDICES.length, type: 'SCALAR' };
const attributes = (): Part => ({
  ...{ bytes: MeshoptEncoder.encodeVertexBuffer(bytesOf(POSITIONS), VERTICES, 12), count: VERTICES },
  ...{ stride: 12, mode: 'ATTRIBUTES' },
});
const triangles = (): Part => ({
  ...{ bytes: MeshoptEncoder.encodeIndexBuffer(bytesOf(INDICES), INDICES.length, 4), count: INDICES.length },
  ...{ stride: 4, mode: 'TRIANGLES' },
});
const sequence = (): Part => ({
  ...{ bytes: MeshoptEncoder.encodeIndexSequence(bytesOf(INDICES), INDICES.length, 4), count: INDICES.length },
  ...{ stride: 4, mode: 'INDICES' },
});

const read = (bytes: Uint8Array, by: GlbDecoders = decoders) => readMesh(bytes, 'a.glb', READ_LIMITS, by);

/** Faces by the sheet's own vertex numbers, the least first: what a packer that reorders vertices may not change. */
function faces(positions: ArrayLike<number>, indices: Uint32Array): string[] {
  const numbers = Array.from({ length: positions.length / 3 }, (_, v) => nearestOf(positions, v));
  const names = Array.from(indices, (index) => numbers[index]);
  return Array.from({ length: indices.length / 3 }, (_, f) => {
    const corners = names.slice(3 * f, 3 * f + 3);
    const first = corners.indexOf(Math.min(...corners));
    return [0, 1, 2].map((k) => corners[(first + k) % 3]).join(', ');
  }).sort();
}

function nearestOf(positions: ArrayLike<number>, v: number): number {
  const away = (o: number) =>
    Math.hypot(positions[3 * v] - POSITIONS[3 * o], positions[3 * v + 1] - POSITIONS[3 * o + 1]);
  let best = 0;
  for (let o = 1; o < VERTICES; o++) if (away(o) < away(best)) best = o;
  return best;
}

describe('packed GLB files, encoded here, come back', () => {
  it('Draco, sequential: exact indices, positions within half a step of 14 bits', () => {
    const { mesh, kind } = read(dracoFile(encodeDraco(true)));
    expect(kind).toBe('mesh');
    expect(mesh.triangles).toEqual(INDICES);
    expect(furthest(mesh.positions)).toBeLessThan(STEP);
    expect(furthest(mesh.positions)).toBeGreaterThan(0);
  });

  it('Draco, edgebreaker: the same faces, wound the same way, in another order', () => {
    const { mesh } = read(dracoFile(encodeDraco(false)));
    expect(mesh.positions.length / 3).toBe(VERTICES);
    expect(faces(mesh.positions, mesh.triangles)).toEqual(faces(POSITIONS, INDICES));
  });

  for (const name of ['EXT_meshopt_compression', 'KHR_meshopt_compression']) {
    it(`${name}: floats bit for bit, faces corner by corner`, () => {
      const { mesh } = read(meshoptGlb([attributes(), triangles()], name, [FLOATS, CORNERS]));
      expect(mesh.positions).toEqual(Float64Array.from(POSITIONS));
      // A triangle may begin at another corner.
      expect(faces(mesh.positions, mesh.triangles)).toEqual(faces(POSITIONS, INDICES));
      const plain = read(meshoptGlb([attributes(), sequence()], name, [FLOATS, CORNERS])).mesh;
      expect(plain.triangles).toEqual(INDICES);
    });
  }

  it('meshopt over quantised positions, set back by the node, within half a step', () => {
    const scale = 2 / 32767;
    const steps = new Int16Array(4 * VERTICES);
    for (let i = 0; i < POSITIONS.length; i++)
      steps[4 * Math.floor(i / 3) + (i % 3)] = Math.round(POSITIONS[i] / scale);
    const part = { ...attributes(), bytes: MeshoptEncoder.encodeVertexBuffer(bytesOf(steps), VERTICES, 8), stride: 8 };
    const name = 'EXT_meshopt_compression';
    const required = { extensionsRequired: [name, 'KHR_mesh_quantization'] };
    const whole = { ...FLOATS, componentType: 5122 };
    const set = { ...required, nodes: [{ mesh: 0, scale: [scale, scale, scale] }] };
    expect(furthest(read(meshoptGlb([part, sequence()], name, [whole, CORNERS], set)).mesh.positions)).toBeLessThan(
      scale / 2 + 1e-7,
    );
    const shares = { ...required, nodes: [{ mesh: 0, scale: [2, 2, 2] }] };
    const normalized = { ...whole, normalized: true };
    expect(
      furthest(read(meshoptGlb([part, sequence()], name, [normalized, CORNERS], shares)).mesh.positions),
    ).toBeLessThan(scale / 2 + 1e-7);
  });

  it('which decoders are needed is told without reading the mesh; nothing for other files', () => {
    expect(packedFormats(dracoFile(encodeDraco(true)))).toEqual(['draco']);
    expect(
      packedFormats(meshoptGlb([attributes(), triangles()], 'KHR_meshopt_compression', [FLOATS, CORNERS])),
    ).toEqual(['meshopt']);
    expect(packedFormats(Uint8Array.of(1, 2, 3, 4, 5))).toEqual([]);
    expect(packedFormats(dracoFile(encodeDraco(true)).slice(0, 90))).toEqual([]);
    const error = refusal(() => read(dracoFile(encodeDraco(true)), {}));
    expect([error.code, error.details.remedy]).toEqual(['unsupported', 'Save it without mesh compression.']);
  });
});

describe('hostile packed files are refused', () => {
  const draco = (change: (bytes: Uint8Array) => Uint8Array, vertices?: number, corners?: number) => () =>
    read(dracoFile(change(encodeDraco(true)), vertices, corners));
  const meshopt =
    (parts: () => readonly Part[], accessors: Json[] = [FLOATS, CORNERS]) =>
    () =>
      read(meshoptGlb(parts(), 'EXT_meshopt_compression', accessors));

  it.each<[string, () => unknown, string]>([
    ['Draco: fewer vertices stated', draco((b) => b, VERTICES - 1), 'inconsistent'],
    ['Draco: more vertices stated', draco((b) => b, VERTICES + 1), 'inconsistent'],
    ['Draco: other corners stated', draco((b) => b, VERTICES, INDICES.length - 3), 'inconsistent'],
    ['Draco: four billion corners stated', draco((b) => b, VERTICES, 4_000_000_000), 'too-large'],
    ['Draco: four billion faces packed', draco((b) => withBytes(b, 11, [255, 255, 255, 255, 15])), 'too-large'],
    ['Draco: a count without an end', draco((b) => withBytes(b, 11, [255, 255, 255, 255, 255])), 'truncated'],
    ['Draco: no DRACO', draco((b) => withBytes(b, 0, [1])), 'malformed'],
    ['Draco: version 9', draco((b) => withBytes(b, 5, [9])), 'unsupported'],
    ['Draco: cut short', draco((b) => b.slice(0, b.length >> 1)), 'malformed'],
    ['Draco: garbage after its counts', draco((b) => b.map((byte, i) => (i < 16 ? byte : 255 - byte))), 'malformed'],
    ['Draco: header alone', draco((b) => b.slice(0, 16)), 'malformed'],
    [
      'meshopt: garbage',
      meshopt(() => [{ ...attributes(), bytes: new Uint8Array(400).fill(77) }, triangles()]),
      'malformed',
    ],
    ['meshopt: cut short', meshopt(() => [cut(attributes()), triangles()]), 'malformed'],
    ['meshopt: faces cut short', meshopt(() => [attributes(), cut(triangles(), 20)]), 'truncated'],
    [
      'meshopt: four billion entries',
      meshopt(() => [{ ...attributes(), count: 4_000_000_000 }, triangles()]),
      'too-large',
    ],
    ['meshopt: a stride of 7', meshopt(() => [{ ...attributes(), stride: 7 }, triangles()]), 'out-of-range'],
    ['meshopt: an unknown mode', meshopt(() => [{ ...attributes(), mode: 'POINTS' }, triangles()]), 'unsupported'],
    [
      'meshopt: an accessor beyond the view',
      meshopt(() => [attributes(), triangles()], [{ ...FLOATS, count: VERTICES + 1 }, CORNERS]),
      'truncated',
    ],
    [
      'meshopt: indices beyond the vertices',
      meshopt(() => [attributes(), triangles()], [{ ...FLOATS, count: 9 }, CORNERS]),
      'out-of-range',
    ],
  ])('%s', (_, work, code) => {
    const error = refusal(work);
    expect({ code: error.code, file: error.details.file }).toEqual({ code, file: 'a.glb' });
  });

  it('300 Draco and meshopt files with bytes changed at random are read or refused, never anything else (seed 66)', () => {
    const random = seededRandom(66);
    const sound = [
      dracoFile(encodeDraco(false)),
      meshoptGlb([attributes(), triangles()], 'EXT_meshopt_compression', [FLOATS, CORNERS]),
    ];
    let refused = 0;
    for (let k = 0; k < 300; k++) {
      const bytes = sound[k % 2].slice();
      for (let n = 0; n < 4; n++) bytes[Math.floor(bytes.length - 1 - random() * 600)] = 256 * random();
      try {
        const { mesh } = read(bytes);
        for (const index of mesh.triangles) if (index >= mesh.positions.length / 3) throw new Error('an index beyond');
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        refused++;
      }
    }
    expect(refused).toBeGreaterThan(30);
    expect(refused).toBeLessThan(300);
  });
});

const withBytes = (bytes: Uint8Array, at: number, change: readonly number[]): Uint8Array => {
  const out = bytes.slice();
  out.set(change, at);
  return out;
};

const cut = (part: Part, to = part.bytes.length >> 1): Part => ({ ...part, bytes: part.bytes.slice(0, to) });

function furthest(positions: Float64Array): number {
  expect(positions.length).toBe(POSITIONS.length);
  return positions.reduce((most, value, i) => Math.max(most, Math.abs(value - POSITIONS[i])), 0);
}

function refusal(work: () => unknown): InputError {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('was read without a refusal');
}
