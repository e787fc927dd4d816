import { InputError, type InputErrorCode, showGot } from '../numeric/input-error.ts';
import { MAX_COORDINATE, type ReadLimits } from './raw-mesh.ts';

/** Throws the InputError that every reader of this folder uses; `place` is "vertex 12", "line 3", "byte 84"... */
export function refuse(code: InputErrorCode, place: string, got: unknown, expected: string, remedy: string): never {
  throw new InputError({ code, field: place, got: showGot(got), expected, remedy });
}

/** Runs a reader and adds the file's own name, without folders, to whatever it refuses. */
export function namingFile<T>(fileName: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (error instanceof InputError) throw error.inFile(bareName(fileName));
    throw error;
  }
}

/** The name without its folders, at most 80 characters. */
export function bareName(fileName: string): string {
  const name = fileName.slice(Math.max(fileName.lastIndexOf('/'), fileName.lastIndexOf('\\')) + 1);
  return name.length > 80 ? `${name.slice(0, 77)}...` : name;
}

export function checkSize(bytes: Uint8Array, limits: ReadLimits): void {
  if (bytes.length === 0) refuse('empty', 'file', '0 bytes', 'a mesh file with content', 'Export the mesh again.');
  if (bytes.length > limits.maxBytes) {
    refuse(
      'too-large',
      'file',
      `${bytes.length} bytes`,
      `at most ${limits.maxBytes} bytes`,
      'Thin the scan out first.',
    );
  }
}

export function checkTriangleCount(count: number, limits: ReadLimits, place: string): void {
  if (count <= limits.maxTriangles) return;
  const expected = `at most ${limits.maxTriangles} triangles`;
  refuse('too-large', place, `${count}`, expected, 'Thin the scan out (2 mm spacing is plenty for a back).');
}

/** Says which coordinate of a vertex can't be used; called only once one is known to be bad. */
export function refuseCoordinate(place: string, x: number, y: number, z: number): never {
  const bad = [x, y, z].findIndex((value) => !(Math.abs(value) <= MAX_COORDINATE));
  const value = [x, y, z][bad];
  const got = `${'xyz'[bad]} = ${value}`;
  if (value === undefined || !Number.isFinite(value)) {
    refuse('not-a-number', place, got, 'finite coordinates', 'Export the mesh again without invalid points.');
  }
  const remedy = 'Check the unit and, for a binary file, the byte order.';
  refuse('out-of-range', place, got, `coordinates within +/-${MAX_COORDINATE}`, remedy);
}
