import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { GlbAccessors } from './glb-accessors.ts';
import { type JsonObject, openGlb } from './glb-container.ts';
import { type GlbDecoders, PACKING_OF } from './glb-decoders.ts';
import { entryAt, GLB_REMEDY, listOf, objectAt, PACKED_REMEDY, wholeAt } from './glb-fields.ts';
import { placeNodes } from './glb-nodes.ts';
import { type Instance, mergeInstances } from './merge-instances.ts';
import { precisionWarnings } from './precision-warnings.ts';
import { type RawMesh, READ_LIMITS, type ReadLimits } from './raw-mesh.ts';
import { checkSize, namingFile, refuse } from './refuse.ts';

const POINTS = 0;
const TRIANGLES = 4;
const STRIP = 5;
const FAN = 6;
const DRACO = 'KHR_draco_mesh_compression';
/** Extensions that change how a surface looks, not where it is. */
const LOOKS = /^(KHR_(materials|texture|lights|xmp)_|EXT_(texture|lights)_)/;

/**
 * Reads a binary glTF 2.0 file (ISO/IEC 12113:2022, from memory): float positions, indices of 1, 2 or 4 bytes or none, sparse
 * positions, triangles, strips and fans, or points alone; nodes placed, all scenes and meshes joined. Colours are not read.
 * Its own BIN chunk is all that is read, no other file, no data: address. Draco and meshopt are unpacked by the decoders handed in
 * (packedFormats says which are needed); quantised positions are read when the file says so.
 * @returns metres with +y up, as the format states.
 * @throws InputError for anything damaged, looped, promised but absent, not finite, or over the limits.
 */
export function readGlb(
  bytes: Uint8Array,
  fileName: string,
  limits: ReadLimits = READ_LIMITS,
  decoders: GlbDecoders = {},
): RawMesh {
  return namingFile(fileName, () => {
    checkSize(bytes, limits);
    const parts = openGlb(bytes);
    checkAsset(parts.json, decoders);
    const warnings = [...parts.warnings];
    const instances = placeMeshes(parts.json, new GlbAccessors(parts, limits, decoders), warnings);
    const faces = instances.filter(({ mesh }) => mesh.triangles.length > 0);
    if (instances.length === 0) refuse('empty', 'scenes', 'no meshes', 'a scene that shows a mesh', GLB_REMEDY);
    if (faces.length > 0 && faces.length < instances.length)
      warnings.push('Loose points beside the mesh were left out.');
    const kind = faces.length > 0 ? 'mesh' : 'points';
    const mesh = mergeInstances(kind === 'mesh' ? faces : instances, limits);
    warnings.push(...precisionWarnings(mesh.positions));
    return { kind, mesh, colours: null, format: 'glb', warnings, statedUnit: 'm', statedUp: '+y' };
  });
}

function checkAsset(json: JsonObject, decoders: GlbDecoders): void {
  const version = objectAt(json.asset, 'asset').version;
  if (typeof version !== 'string' || !/^2\.\d/.test(version)) {
    refuse('unsupported', 'asset.version', version, 'glTF 2', 'Export it as glTF 2.0 GLB.');
  }
  const required = json.extensionsRequired ?? [];
  if (!Array.isArray(required)) refuse('wrong-type', 'extensionsRequired', required, 'a list of names', GLB_REMEDY);
  for (const name of required as unknown[]) {
    if (name === 'KHR_mesh_quantization' || (typeof name === 'string' && LOOKS.test(name))) continue;
    const packing = typeof name === 'string' && Object.hasOwn(PACKING_OF, name) ? PACKING_OF[name] : undefined;
    if (packing !== undefined && decoders[packing] !== undefined) continue;
    const remedy = packing === undefined ? 'Save it without that extension.' : PACKED_REMEDY;
    refuse('unsupported', 'extensionsRequired', name, 'a file that needs no such extension', remedy);
  }
}

function placeMeshes(json: JsonObject, accessors: GlbAccessors, warnings: string[]): Instance[] {
  const meshes = listOf(json, 'meshes', '');
  const known = new Map<JsonObject, TriangleMesh[]>();
  const instances: Instance[] = [];
  if (listOf(json, 'scenes', '').length > 1) warnings.push('All scenes of the file were read as one.');
  for (const { node, matrix, place } of placeNodes(json)) {
    if (node.mesh === undefined) continue;
    if (node.skin !== undefined) {
      refuse('unsupported', place, 'a skin', 'a mesh without a skeleton', 'Apply the pose, then export it without.');
    }
    const mesh = entryAt(meshes, node, 'mesh', place);
    const parts = known.get(mesh) ?? readParts(mesh, `meshes[${node.mesh}]`, accessors, warnings);
    known.set(mesh, parts);
    for (const part of parts) instances.push({ mesh: part, matrix, place });
  }
  return instances;
}

function readParts(mesh: JsonObject, place: string, accessors: GlbAccessors, warnings: string[]): TriangleMesh[] {
  const parts: TriangleMesh[] = [];
  listOf(mesh, 'primitives', `${place}.`).forEach((primitive, i) => {
    const at = `${place}.primitives[${i}]`;
    const mode = wholeAt(primitive, 'mode', at, 0, TRIANGLES);
    if (mode > FAN) refuse('out-of-range', at, `mode ${mode}`, 'a mode from 0 to 6', GLB_REMEDY);
    if (mode > POINTS && mode < TRIANGLES) {
      warnings.push(`Lines in ${at} were left out.`);
      return;
    }
    if (primitive.targets !== undefined) warnings.push(`Morph targets in ${at} were left out: the mesh is as stored.`);
    parts.push(readPrimitive(primitive, mode, at, accessors));
  });
  return parts;
}

function readPrimitive(primitive: JsonObject, mode: number, place: string, accessors: GlbAccessors): TriangleMesh {
  const packed = packedAs(primitive, accessors, place);
  if (packed !== null) return unpacked(packed, primitive, mode, place, accessors);
  const positions = accessors.positions(objectAt(primitive.attributes, place), 'POSITION', `${place} POSITION`);
  const vertices = positions.length / 3;
  if (mode === POINTS) return { positions, triangles: new Uint32Array(0) };
  const indices =
    primitive.indices === undefined
      ? Uint32Array.from({ length: vertices }, (_, i) => i)
      : accessors.indices(primitive, 'indices', `${place} indices`, vertices);
  if (indices.length < 3 || (mode === TRIANGLES && indices.length % 3 !== 0)) {
    const expected = mode === TRIANGLES ? 'three corners a triangle' : 'at least three corners';
    refuse('malformed', place, `${indices.length} corners`, expected, GLB_REMEDY);
  }
  const triangles = mode === TRIANGLES ? indices : unrolled(indices, mode);
  if (triangles.length === 0) refuse('empty', place, '0 triangles', 'at least one triangle', GLB_REMEDY);
  return { positions, triangles };
}

/** The primitive's Draco form, when it has one and it can be unpacked; else its plain accessors are read. */
function packedAs(primitive: JsonObject, accessors: GlbAccessors, place: string): JsonObject | null {
  if (primitive.extensions === undefined || !accessors.unpacksDraco) return null;
  const extensions = objectAt(primitive.extensions, `${place} extensions`);
  return Object.hasOwn(extensions, DRACO) ? objectAt(extensions[DRACO], `${place} ${DRACO}`) : null;
}

function unpacked(
  packed: JsonObject,
  primitive: JsonObject,
  mode: number,
  place: string,
  accessors: GlbAccessors,
): TriangleMesh {
  if (mode !== TRIANGLES) refuse('unsupported', place, `Draco in mode ${mode}`, 'packed triangles', PACKED_REMEDY);
  const positionId = wholeAt(objectAt(packed.attributes, `${place} Draco attributes`), 'POSITION', place);
  const vertices = accessors.count(objectAt(primitive.attributes, place), 'POSITION', 'VEC3', `${place} POSITION`);
  const corners = accessors.count(primitive, 'indices', 'SCALAR', `${place} indices`);
  return accessors.draco(packed, { positionId, vertices, corners }, place);
}

/**
 * Triangles of a strip, every other one turned so that all face alike, or of a fan about its first corner. Strips are joined by
 * triangles with a corner twice; those enclose nothing and are left out.
 */
function unrolled(indices: Uint32Array, mode: number): Uint32Array {
  const out = new Uint32Array(3 * (indices.length - 2));
  let length = 0;
  for (let i = 0; i + 2 < indices.length; i++) {
    const a = mode === FAN ? indices[0] : indices[i];
    const odd = mode === STRIP && i % 2 === 1;
    const b = indices[odd ? i + 2 : i + 1];
    const c = indices[odd ? i + 1 : i + 2];
    if (a === b || b === c || a === c) continue;
    out.set([a, b, c], length);
    length += 3;
  }
  return out.slice(0, length);
}
