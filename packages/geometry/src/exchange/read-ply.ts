import { FaceSink } from './face-sink.ts';
import { PlyAsciiBody } from './ply-ascii-body.ts';
import { PlyBinaryBody } from './ply-binary-body.ts';
import type { PlyBody, VertexRoles } from './ply-body.ts';
import { type PlyElement, type PlyHeader, parsePlyHeader, SCALAR, SCALAR_BYTES } from './ply-header.ts';
import { precisionWarnings } from './precision-warnings.ts';
import { type RawMesh, READ_LIMITS, type ReadLimits } from './raw-mesh.ts';
import { checkSize, checkTriangleCount, namingFile, refuse } from './refuse.ts';

const REMEDY = 'Export the mesh again as PLY with triangles.';

/**
 * Reads a PLY file (Turk 1994, from memory): ASCII or binary of either byte order, any scalar types, any further properties and
 * elements. Faces of more than three corners are split, faces of fewer left out, both with a warning. Without faces it is a
 * point cloud.
 * @returns coordinates exactly as in the file, its own unit and axes.
 * @throws InputError for anything damaged, promised but absent, not finite, or over the limits; nothing is taken on trust.
 */
export function readPly(bytes: Uint8Array, fileName: string, limits: ReadLimits = READ_LIMITS): RawMesh {
  return namingFile(fileName, () => {
    checkSize(bytes, limits);
    const header = parsePlyHeader(bytes);
    checkElements(header, limits);
    return readBody(header, bodyOf(bytes, header), limits);
  });
}

function bodyOf(bytes: Uint8Array, header: PlyHeader): PlyBody {
  if (header.encoding === 'ascii') return new PlyAsciiBody(bytes, header.bodyStart);
  return new PlyBinaryBody(bytes, header.bodyStart, header.encoding === 'binary_little_endian');
}

function checkElements({ elements }: PlyHeader, limits: ReadLimits): void {
  const names = elements.map((element) => element.name);
  for (const element of elements) {
    if (names.indexOf(element.name) !== names.lastIndexOf(element.name)) {
      refuse('duplicate-key', 'header', element.name, 'each element once', REMEDY);
    }
    if (element.name === 'tristrips' && element.count > 0) {
      refuse('unsupported', 'header', 'element tristrips', 'faces, not triangle strips', REMEDY);
    }
  }
  const vertex = elements.find((element) => element.name === 'vertex');
  const face = elements.find((element) => element.name === 'face');
  if (vertex === undefined) refuse('missing', 'header', names.join(', '), 'an element "vertex"', REMEDY);
  if (vertex.count === 0) refuse('empty', 'header', '0 vertices', 'at least one vertex', REMEDY);
  if (hasFaces(elements) && names.indexOf('face') < names.indexOf('vertex')) {
    refuse('unsupported', 'header', 'faces before vertices', 'the element "vertex" before "face"', REMEDY);
  }
  checkTriangleCount(face?.count ?? 0, limits, 'header');
  checkTriangleCount(vertex.count / 3, limits, 'header');
}

function hasFaces(elements: readonly PlyElement[]): boolean {
  return elements.some(({ name, count }) => name === 'face' && count > 0);
}

function readBody(header: PlyHeader, body: PlyBody, limits: ReadLimits): RawMesh {
  let positions = new Float64Array(0);
  let colours: Uint8Array | null = null;
  let sink = new FaceSink(positions, 0, limits);
  for (const element of header.elements) {
    body.checkRoom(element);
    if (element.name === 'vertex') {
      const roles = vertexRoles(element);
      positions = new Float64Array(3 * element.count);
      colours = roles.colour.length === 3 ? new Uint8Array(3 * element.count) : null;
      body.readVertices(element, roles, positions, colours);
    } else if (element.name === 'face' && element.count > 0) {
      sink = new FaceSink(positions, element.count, limits);
      body.readFaces(element, indexProperty(element), sink);
    } else body.skip(element);
  }
  const triangles = sink.triangles.finish();
  const kind = hasFaces(header.elements) ? 'mesh' : 'points';
  if (kind === 'mesh' && triangles.length === 0)
    refuse('empty', 'faces', '0 triangles', 'at least one triangle', REMEDY);
  const left = body.leftOver();
  const warnings = [...sink.warnings(), ...precisionWarnings(positions)];
  if (left !== null) warnings.push(`${left} after the last element were not read.`);
  return { kind, mesh: { positions, triangles }, colours, format: 'ply', warnings };
}

function vertexRoles(element: PlyElement): VertexRoles {
  const find = (name: string) => element.properties.findIndex((property) => property.name === name);
  const [x, y, z] = ['x', 'y', 'z'].map((name) => {
    const role = find(name);
    if (role >= 0) return role;
    return refuse('missing', 'element vertex', `no property ${name}`, 'properties x, y and z', REMEDY);
  });
  const sets = [
    ['red', 'green', 'blue'],
    ['diffuse_red', 'diffuse_green', 'diffuse_blue'],
    ['r', 'g', 'b'],
  ];
  const colour = sets.map((names) => names.map(find)).find((roles) => roles.every((role) => role >= 0));
  return { x, y, z, colour: colour ?? [] };
}

function indexProperty(element: PlyElement): number {
  const at = element.properties.findIndex(({ name }) => name === 'vertex_indices' || name === 'vertex_index');
  const property = element.properties[at];
  if (
    property !== undefined &&
    property.countType >= 0 &&
    property.type < SCALAR.f32 &&
    SCALAR_BYTES[property.type] > 0
  ) {
    return at;
  }
  const expected = 'a list property "vertex_indices" of whole numbers';
  return refuse('missing', 'element face', element.properties.map(({ name }) => name).join(', '), expected, REMEDY);
}
