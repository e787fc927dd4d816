import { FaceSink } from './face-sink.ts';
import { objScanner } from './obj-line.ts';
import { precisionWarnings } from './precision-warnings.ts';
import { MAX_COORDINATE, type RawMesh, READ_LIMITS, type ReadLimits } from './raw-mesh.ts';
import { checkSize, checkTriangleCount, namingFile, refuse, refuseCoordinate } from './refuse.ts';
import type { TextScanner } from './text-scanner.ts';

const REMEDY = 'Export the mesh again as OBJ with faces.';
const FREE_FORM = new Set(
  'vp deg bmat step cstype curv curv2 surf parm trim hole scrv sp end con bzp bsp cdc cdp res'.split(' '),
);
const SILENT = new Set(
  'vt vn g o s mg usemtl mtllib usemap maplib shadow_obj trace_obj bevel c_interp d_interp lod'.split(' '),
);

interface ObjFaces {
  /** Corner indices of all faces, one after the other, counted from 0. */
  readonly corners: number[];
  /** Corners of each face. */
  readonly sizes: number[];
}

/**
 * Reads the polygons of an OBJ file (Wavefront Advanced Visualizer, appendix B1, from memory): positive and negative indices,
 * v/vt/vn in any mix (only v is used), lines continued with a backslash, colours behind the coordinates.
 * Free-form curves and surfaces, lines and points are left out with a warning.
 * @returns coordinates exactly as in the file, its own unit and axes (OBJ names neither).
 * @throws InputError for anything damaged, not finite, out of range, or over the limits.
 */
export function readObj(bytes: Uint8Array, fileName: string, limits: ReadLimits = READ_LIMITS): RawMesh {
  return namingFile(fileName, () => {
    checkSize(bytes, limits);
    const scan = objScanner(bytes);
    const vertices: number[] = [];
    const colours: number[] = [];
    const faces: ObjFaces = { corners: [], sizes: [] };
    const leftOut = new Map<string, number>();
    while (scan.startLine()) {
      scan.skipToken();
      const word = scan.token();
      if (word === 'v') readVertex(scan, vertices, colours);
      else if (word === 'f' || word === 'fo') readFace(scan, vertices.length / 3, faces, limits);
      else countLeftOut(word, leftOut);
      scan.skipLine();
    }
    return assemble(vertices, colours, faces, leftOut, limits);
  });
}

function readVertex(scan: TextScanner, vertices: number[], colours: number[]): void {
  const at = vertices.length / 3;
  const values: number[] = [];
  while (!scan.atLineEnd() && scan.bytes[scan.pos] !== 35) {
    const value = scan.number();
    if (Number.isNaN(value)) refuseNumber(scan, at);
    values.push(value);
    if (values.length > 7)
      refuse('malformed', `vertex ${at + 1}, ${scan.place()}`, '8 numbers', '3 to 7 numbers', REMEDY);
  }
  const [x, y, z] = values;
  if (values.length < 3) {
    refuse('truncated', `vertex ${at + 1}, ${scan.place()}`, `${values.length} numbers`, 'three coordinates', REMEDY);
  }
  if (!(Math.abs(x) <= MAX_COORDINATE && Math.abs(y) <= MAX_COORDINATE && Math.abs(z) <= MAX_COORDINATE)) {
    refuseCoordinate(`vertex ${at + 1}, ${scan.place()}`, x, y, z);
  }
  vertices.push(x, y, z);
  // Colours stand behind the coordinates, or behind coordinates and weight.
  if (values.length >= 6) colours.push(...values.slice(-3));
}

function readFace(scan: TextScanner, vertexCount: number, faces: ObjFaces, limits: ReadLimits): void {
  let size = 0;
  for (; !scan.atLineEnd() && scan.bytes[scan.pos] !== 35; size++) {
    faces.corners.push(readCorner(scan, vertexCount));
  }
  faces.sizes.push(size);
  checkTriangleCount(faces.sizes.length, limits, 'faces');
}

/** The vertex of "v", "v/vt", "v//vn" or "v/vt/vn"; negative ones count back from the last vertex so far. */
function readCorner(scan: TextScanner, vertexCount: number): number {
  scan.skipToken();
  const word = scan.token();
  const corner = /^(-?\d{1,10})(\/(-?\d+)?){0,2}$/.exec(word);
  if (corner === null) refuse('syntax', scan.place(), word, 'a corner such as 7, 7/3, 7//2 or 7/3/2', REMEDY);
  const value = Number(corner[1]);
  if (value === 0) refuse('out-of-range', scan.place(), word, 'indices counted from 1', REMEDY);
  const index = value < 0 ? vertexCount + value : value - 1;
  if (index < 0) refuse('out-of-range', scan.place(), word, `at most ${vertexCount} vertices back`, REMEDY);
  return index;
}

function refuseNumber(scan: TextScanner, at: number): never {
  const word = scan.token();
  const place = `vertex ${at + 1}, ${scan.place()}`;
  if (/^[+-]?(nan|inf)/i.test(word)) refuse('not-a-number', place, word, 'finite coordinates', REMEDY);
  const remedy = word.includes(',') ? 'Write decimals with a point, not a comma.' : REMEDY;
  return refuse('syntax', place, word, 'a number', remedy);
}

function countLeftOut(word: string, leftOut: Map<string, number>): void {
  if (word.startsWith('#') || SILENT.has(word)) return;
  const kind = FREE_FORM.has(word) ? 'free-form' : word === 'l' || word === 'p' ? 'line or point' : 'unknown';
  leftOut.set(kind, (leftOut.get(kind) ?? 0) + 1);
}

function assemble(
  vertices: number[],
  colours: number[],
  faces: ObjFaces,
  leftOut: ReadonlyMap<string, number>,
  limits: ReadLimits,
): RawMesh {
  const positions = Float64Array.from(vertices);
  if (positions.length === 0) refuse('empty', 'file', 'no "v" line', 'vertices and faces', REMEDY);
  if (faces.sizes.length === 0) {
    const remedy = 'Points without faces are not read for now: mesh the scan first, then export it with its triangles.';
    refuse('unsupported', 'file', `${positions.length / 3} points and no faces`, 'a mesh with faces', remedy);
  }
  const sink = new FaceSink(positions, faces.sizes.length, limits);
  let start = 0;
  faces.sizes.forEach((size, face) => {
    sink.addFace(faces.corners.slice(start, start + size), () => `face ${face + 1} (counted from 0)`);
    start += size;
  });
  const triangles = sink.triangles.finish();
  if (triangles.length === 0) refuse('empty', 'faces', '0 triangles', 'at least one triangle', REMEDY);
  const warnings = [...leftOut].map(([kind, count]) => `${count} ${kind} lines were left out.`);
  warnings.push(...sink.warnings(), ...precisionWarnings(positions));
  return {
    kind: 'mesh',
    mesh: { positions, triangles },
    colours: colourBytes(colours, positions.length),
    format: 'obj',
    warnings,
  };
}

/** Colours only when every vertex has one; fractions of 1, or 0..255 when any is above 1. */
function colourBytes(colours: readonly number[], length: number): Uint8Array | null {
  if (colours.length !== length) return null;
  const scale = colours.some((value) => value > 1) ? 1 : 255;
  return Uint8Array.from(colours, (value) => Math.min(255, Math.max(0, Math.round(value * scale))));
}
