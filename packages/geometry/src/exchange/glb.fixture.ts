import { encodeAscii } from './ascii-bytes.ts';

type Json = Record<string, unknown>;

/** Positions of two triangles sharing an edge, single precision exactly. */
export const GLB_POSITIONS = [0, 0, 0, 4, 0, 0.5, 4, 3, 1, 0, 3, -0.25];
export const GLB_INDICES = [0, 1, 2, 0, 2, 3];

/** 48 bytes of positions, then the indices as u8, u16 and u32, each from a multiple of four. */
export const GLB_BIN = binOf();

function binOf(): Uint8Array {
  const bin = new Uint8Array(48 + 8 + 12 + 24);
  const view = new DataView(bin.buffer);
  GLB_POSITIONS.forEach((value, i) => {
    view.setFloat32(4 * i, value, true);
  });
  GLB_INDICES.forEach((index, i) => {
    view.setUint8(48 + i, index);
    view.setUint16(56 + 2 * i, index, true);
    view.setUint32(68 + 4 * i, index, true);
  });
  return bin;
}

/** A document of one mesh; accessors 1, 2, 3 are the indices in one, two and four bytes. */
export function glbJson(changes: Json = {}): Json {
  return {
    asset: { version: '2.0' },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0 }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 2 }] }],
    accessors: [
      { bufferView: 0, componentType: 5126, count: 4, type: 'VEC3', min: [0, 0, -0.25], max: [4, 3, 1] },
      { bufferView: 1, componentType: 5121, count: 6, type: 'SCALAR' },
      { bufferView: 2, componentType: 5123, count: 6, type: 'SCALAR' },
      { bufferView: 3, componentType: 5125, count: 6, type: 'SCALAR' },
    ],
    bufferViews: [
      { buffer: 0, byteLength: 48 },
      { buffer: 0, byteOffset: 48, byteLength: 6 },
      { buffer: 0, byteOffset: 56, byteLength: 12 },
      { buffer: 0, byteOffset: 68, byteLength: 24 },
    ],
    buffers: [{ byteLength: 92 }],
    ...changes,
  };
}

/** Header, JSON chunk padded with `pad`, BIN chunk. */
export function writeGlb(json: Json | Uint8Array, bin: Uint8Array = GLB_BIN, pad = 32): Uint8Array {
  const text = json instanceof Uint8Array ? json : encodeAscii(JSON.stringify(json));
  const jsonLength = 4 * Math.ceil(text.length / 4);
  const bytes = new Uint8Array(12 + 8 + jsonLength + 8 + bin.length);
  const view = new DataView(bytes.buffer);
  [0x46546c67, 2, bytes.length, jsonLength, 0x4e4f534a].forEach((word, i) => {
    view.setUint32(4 * i, word, true);
  });
  bytes.fill(pad, 20 + text.length, 20 + jsonLength);
  bytes.set(text, 20);
  view.setUint32(20 + jsonLength, bin.length, true);
  view.setUint32(24 + jsonLength, 0x004e4942, true);
  bytes.set(bin, 28 + jsonLength);
  return bytes;
}
