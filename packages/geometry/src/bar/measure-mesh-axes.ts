import { InputError } from '../numeric/index.ts';
import type { TriangleMesh } from '../surface/index.ts';
import { MM_PER_INCH } from '../units/index.ts';

export type FileAxis = '+x' | '-x' | '+y' | '-y' | '+z' | '-z';

/** Which axis of the file points to the tail, to the horse's right, and up; as in a scan document (DESIGN 3). */
export interface MeshAxes {
  readonly tail: FileAxis;
  readonly right: FileAxis;
  readonly up: FileAxis;
}

export type MeshUnit = 'mm' | 'cm' | 'm' | 'in';

const UNIT_MM: Readonly<Record<MeshUnit, number>> = Object.freeze({ mm: 1, cm: 10, m: 1000, in: MM_PER_INCH });

/**
 * A file's coordinates as x rearward, y right, z up, in mm; faces keep their winding.
 * @throws InputError 'inconsistent' when the axes are not one each of x, y and z, or would swap left and right
 */
export function turnToBarAxes(mesh: TriangleMesh, axes: MeshAxes, unit: MeshUnit): TriangleMesh {
  const columns = [axes.tail, axes.right, axes.up].map((axis) => 'xyz'.indexOf(axis[1]));
  const signs = [axes.tail, axes.right, axes.up].map((axis) => (axis[0] === '-' ? -1 : 1));
  refuseAxes(axes, columns, signs);
  const scale = UNIT_MM[unit];
  const positions = new Float64Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    for (let k = 0; k < 3; k++) positions[i + k] = signs[k] * scale * mesh.positions[i + columns[k]];
  }
  return { positions, triangles: mesh.triangles };
}

function refuseAxes({ tail, right, up }: MeshAxes, [a, b, c]: readonly number[], signs: readonly number[]): void {
  const got = `tail ${tail}, right ${right}, up ${up}`;
  if (new Set([a, b, c]).size !== 3) {
    throw new InputError({
      code: 'inconsistent',
      field: 'axes',
      got,
      expected: 'one each of x, y and z for tail, right and up',
      remedy: 'Look at the mesh in a viewer and name the file axis that points each way.',
    });
  }
  const rightHanded = (b - a + 3) % 3 === 1 ? 1 : -1;
  if (rightHanded * signs[0] * signs[1] * signs[2] > 0) return;
  const opposite = `${right[0] === '-' ? '+' : '-'}${right[1]}`;
  throw new InputError({
    code: 'inconsistent',
    field: 'axes.right',
    got,
    expected: `axes that keep left and right: with this tail and up, right is ${opposite}`,
    remedy: `Write ${opposite}, or mirror the mesh first if it was saved mirrored.`,
  });
}
