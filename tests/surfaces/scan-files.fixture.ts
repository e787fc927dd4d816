import { deflateRawSync } from 'node:zlib';
import { type TriangleMesh, writeObj, writePly, writeStl } from '@barwright/geometry';

/**
 * The formats a scan may come in, by ending. PLY in ASCII and little-endian, OBJ and binary STL by our own writers; the
 * others are written here without any of the readers' code. Coordinates in single precision but for OBJ and 3MF.
 */
export const SCAN_WRITERS: Readonly<Record<string, (mesh: TriangleMesh) => Uint8Array>> = {
  'ascii.ply': (mesh) => writePly(mesh, { ascii: true }),
  'little.ply': (mesh) => writePly(mesh),
  'big.ply': writeBigEndianPly,
  'text.obj': (mesh) => writeObj(mesh),
  'binary.stl': (mesh) => writeStl(mesh),
  'ascii.stl': writeAsciiStl,
  'scene.glb': writeGlbFile,
  'model.3mf': write3mfFile,
};

/** Point clouds: blanks between, a header and semicolons, and PLY without a face. Shortest decimals of double precision. */
export const CLOUD_WRITERS: Readonly<Record<string, (positions: Float64Array) => Uint8Array>> = {
  'cloud.xyz': (positions) => text(rowsOf(positions, ' ')),
  'cloud.csv': (positions) => text(`X;Y;Z\n${rowsOf(positions, ';')}`),
  'cloud.ply': (positions) =>
    text(
      `ply\nformat ascii 1.0\nelement vertex ${positions.length / 3}\nproperty double x\nproperty double y\n` +
        `property double z\nend_header\n${rowsOf(positions, ' ')}`,
    ),
};

function rowsOf(p: Float64Array, separator: string): string {
  const rows = Array.from({ length: p.length / 3 }, (_, i) => p.subarray(3 * i, 3 * i + 3).join(separator));
  return `${rows.join('\n')}\n`;
}

const text = (content: string): Uint8Array => new Uint8Array(Buffer.from(content, 'utf8'));

function writeBigEndianPly({ positions, triangles }: TriangleMesh): Uint8Array {
  const head = Buffer.from(
    `ply\nformat binary_big_endian 1.0\nelement vertex ${positions.length / 3}\nproperty float x\nproperty float y\n` +
      `property float z\nelement face ${triangles.length / 3}\nproperty list uchar int vertex_indices\nend_header\n`,
  );
  const body = Buffer.alloc(4 * positions.length + (13 * triangles.length) / 3);
  let at = 0;
  for (const value of positions) at = body.writeFloatBE(value, at);
  for (let k = 0; k < triangles.length; k += 3) {
    at = body.writeUInt8(3, at);
    for (const vertex of triangles.subarray(k, k + 3)) at = body.writeInt32BE(vertex, at);
  }
  return new Uint8Array(Buffer.concat([head, body]));
}

function writeAsciiStl({ positions, triangles }: TriangleMesh): Uint8Array {
  const lines = ['solid scan'];
  triangles.forEach((vertex, k) => {
    if (k % 3 === 0) lines.push('facet normal 0 0 0', 'outer loop');
    const [x, y, z] = positions.subarray(3 * vertex, 3 * vertex + 3);
    lines.push(`vertex ${Math.fround(x!)} ${Math.fround(y!)} ${Math.fround(z!)}`);
    if (k % 3 === 2) lines.push('endloop', 'endfacet');
  });
  return text(`${lines.join('\n')}\nendsolid scan\n`);
}

/** Positions and 32-bit indices in one buffer, two views; glTF 2.0 binary container (ISO/IEC 12113:2022, from memory). */
function writeGlbFile({ positions, triangles }: TriangleMesh): Uint8Array {
  const coordinates = Float32Array.from(positions);
  const [min, max] = [Math.min, Math.max].map((most) =>
    [0, 1, 2].map((axis) => coordinates.filter((_, i) => i % 3 === axis).reduce((a, b) => most(a, b))),
  );
  const [pointBytes, indexBytes] = [coordinates.byteLength, 4 * triangles.length];
  const json = JSON.stringify({
    asset: { version: '2.0' },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0 }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1 }] }],
    accessors: [
      { bufferView: 0, componentType: 5126, count: positions.length / 3, type: 'VEC3', min, max },
      { bufferView: 1, componentType: 5125, count: triangles.length, type: 'SCALAR' },
    ],
    bufferViews: [
      { buffer: 0, byteLength: pointBytes },
      { buffer: 0, byteOffset: pointBytes, byteLength: indexBytes },
    ],
    buffers: [{ byteLength: pointBytes + indexBytes }],
  });
  const padded = Buffer.from(json.padEnd(4 * Math.ceil(json.length / 4)));
  const bin = Buffer.concat([Buffer.from(coordinates.buffer), Buffer.from(Uint32Array.from(triangles).buffer)]);
  const chunk = (kind: string, content: Buffer): Buffer => {
    const head = Buffer.alloc(8);
    head.writeUInt32LE(content.length);
    head.write(kind, 4, 'latin1');
    return Buffer.concat([head, content]);
  };
  const chunks = Buffer.concat([chunk('JSON', padded), chunk('BIN\0', bin)]);
  const head = Buffer.from('glTF\x02\0\0\0\0\0\0\0', 'latin1');
  head.writeUInt32LE(12 + chunks.length, 8);
  return new Uint8Array(Buffer.concat([head, chunks]));
}

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
const MODEL = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel';

/** States millimetres whatever the coordinates are in, as exporters do; the document has the last word. */
function write3mfFile({ positions: p, triangles: t }: TriangleMesh): Uint8Array {
  const rows = (n: number, row: (i: number) => string): string => Array.from({ length: n }, (_, i) => row(i)).join('');
  const points = rows(p.length / 3, (i) => `<vertex x="${p[3 * i]}" y="${p[3 * i + 1]}" z="${p[3 * i + 2]}"/>`);
  const faces = rows(t.length / 3, (i) => `<triangle v1="${t[3 * i]}" v2="${t[3 * i + 1]}" v3="${t[3 * i + 2]}"/>`);
  const mesh = `<mesh><vertices>${points}</vertices><triangles>${faces}</triangles></mesh>`;
  return zipOf({
    '_rels/.rels': `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="r" Type="${MODEL}"/></Relationships>`,
    '3D/3dmodel.model': `<model unit="millimeter" xmlns="${CORE}"><resources><object id="1" type="model">${mesh}</object></resources><build><item objectid="1"/></build></model>`,
  });
}

/** A plain zip archive, deflated by the platform (PKWARE APPNOTE 6.3, from memory). */
function zipOf(parts: Readonly<Record<string, string>>): Uint8Array {
  const files: Buffer[] = [];
  const directory: Buffer[] = [];
  let start = 0;
  for (const [name, content] of Object.entries(parts)) {
    const packed = deflateRawSync(content);
    const head = Buffer.alloc(26);
    for (const [i, value] of [20, 0, 8, 0, 0].entries()) head.writeUInt16LE(value, 2 * i);
    for (const [i, value] of [crc32(content), packed.length, content.length].entries()) {
      head.writeUInt32LE(value, 10 + 4 * i);
    }
    head.writeUInt16LE(name.length, 22);
    const place = Buffer.alloc(14);
    place.writeUInt32LE(start, 10);
    const file = Buffer.concat([Buffer.from('PK\x03\x04'), head, Buffer.from(name), packed]);
    directory.push(Buffer.concat([Buffer.from('PK\x01\x02\x14\0'), head, place, Buffer.from(name)]));
    files.push(file);
    start += file.length;
  }
  const listed = Buffer.concat(directory);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 'latin1');
  end.writeUInt16LE(directory.length, 8);
  end.writeUInt16LE(directory.length, 10);
  end.writeUInt32LE(listed.length, 12);
  end.writeUInt32LE(start, 16);
  return new Uint8Array(Buffer.concat([...files, listed, end]));
}

/** CRC-32 bit by bit, polynomial EDB88320 (from memory). */
function crc32(content: string): number {
  let crc = 0xffffffff;
  for (const byte of Buffer.from(content)) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return (crc ^ 0xffffffff) >>> 0;
}
