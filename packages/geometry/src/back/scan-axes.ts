import { InputError } from '../numeric/index.ts';
import type { TriangleMesh } from '../surface/triangle-mesh.ts';
import { SCAN_UNIT_MM, type ScanBackDocument } from './scan-schema.ts';

/** Row-major 3x3: rows are the file axes to the tail, right and up, times the unit's millimetres. Mirrors for a mirrored file. */
export type Turn = readonly number[];

/** Longest side that the scan of a back, or of a whole horse, can have, mm. */
const SHORTEST_MM = 150;
const LONGEST_MM = 4000;

/** Largest entry of R R^T - 1 that a written rotation may have: a thousandth of a millimetre over a horse. */
const TURN_TOLERANCE = 1e-6;

/**
 * File coordinates to millimetres with x to the tail, y to the right, z up: first `turn`, then `axes`, then the unit. Axes of a
 * `mirrored` file are left-handed, of any other right-handed.
 * @throws InputError 'inconsistent' when the three axes are not one each of x, y and z, when they swap left and right without
 *   `mirrored` or keep them with it, or when the turn is no rotation
 */
export function turnFromAxes(
  axes: ScanBackDocument['axes'],
  unit: ScanBackDocument['unit'],
  turn?: readonly number[],
  mirrored = false,
): Turn {
  const rows = [axes.tail, axes.right, axes.up];
  const letters = new Set(rows.map((axis) => axis[1]));
  if (letters.size !== 3) {
    throw new InputError({
      code: 'inconsistent',
      field: 'axes',
      got: rows.join(' '),
      expected: 'one each of x, y and z for tail, right and up',
      remedy: 'Look at the scan in a mesh viewer and name the file axis that points each way.',
    });
  }
  const scale = SCAN_UNIT_MM[unit];
  const named = rows.flatMap((axis) =>
    ['x', 'y', 'z'].map((k) => (k === axis[1] ? (axis[0] === '-' ? -scale : scale) : 0)),
  );
  if (determinant(named) < 0 !== mirrored) throw wrongHanded(axes, mirrored);
  if (turn === undefined) return named;
  checkRotation(turn);
  return named.map((_, k) => {
    const row = 3 * Math.floor(k / 3);
    return [0, 1, 2].reduce((sum, j) => sum + named[row + j] * turn[3 * j + (k % 3)], 0);
  });
}

function wrongHanded(axes: ScanBackDocument['axes'], mirrored: boolean): InputError {
  const opposite = `${axes.right[0] === '-' ? '+' : '-'}${axes.right[1]}`;
  return new InputError({
    code: 'inconsistent',
    field: 'axes.right',
    got: `tail ${axes.tail}, right ${axes.right}, up ${axes.up}`,
    expected: mirrored
      ? `axes that swap left and right, as the file is marked as mirrored: with this tail and up, right is ${opposite}`
      : `axes that do not swap left and right: with this tail and up, right is ${opposite}`,
    remedy: mirrored
      ? `Write ${opposite}, or leave "mirrored" out if the scan was not saved mirrored.`
      : `Write ${opposite}, or, if the scan itself was saved mirrored, add "mirrored": true and keep ${axes.right}.`,
  });
}

function checkRotation(turn: readonly number[]): void {
  let off = turn.length === 9 ? 0 : Number.NaN;
  for (let k = 0; k < 9; k++) {
    const [i, j] = [3 * Math.floor(k / 3), 3 * (k % 3)];
    const product = turn[i] * turn[j] + turn[i + 1] * turn[j + 1] + turn[i + 2] * turn[j + 2];
    off = Math.max(off, Math.abs(product - (i === j ? 1 : 0)));
  }
  if (off <= TURN_TOLERANCE && determinant(turn) > 0) return;
  throw new InputError({
    code: 'inconsistent',
    field: 'turn',
    got: off <= TURN_TOLERANCE ? 'a rotation that also mirrors' : `rows off square or off unit length by ${off}`,
    expected: 'a row-major 3x3 rotation: unit rows at right angles, right-handed',
    remedy: 'Take the turn that `barwright back` proposes, with all its digits, or leave it out.',
  });
}

function determinant(m: Turn): number {
  return m[0] * (m[4] * m[8] - m[5] * m[7]) - m[1] * (m[3] * m[8] - m[5] * m[6]) + m[2] * (m[3] * m[7] - m[4] * m[6]);
}

export function turnPoint(turn: Turn, p: readonly number[]): [number, number, number] {
  return [
    turn[0] * p[0] + turn[1] * p[1] + turn[2] * p[2],
    turn[3] * p[0] + turn[4] * p[1] + turn[5] * p[2],
    turn[6] * p[0] + turn[7] * p[1] + turn[8] * p[2],
  ];
}

/**
 * A mesh in millimetres, x to the tail; triangles of a mirrored one are wound the other way, so that they face out again.
 * @throws InputError 'wrong-unit' when the scan would be smaller than a hand or longer than a horse
 */
export function turnMesh(turn: Turn, mesh: TriangleMesh, unit: string): TriangleMesh {
  const positions = new Float64Array(mesh.positions.length);
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const high = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < positions.length; k += 3) {
    const x = mesh.positions[k];
    const y = mesh.positions[k + 1];
    const z = mesh.positions[k + 2];
    for (let r = 0; r < 3; r++) {
      const value = turn[3 * r] * x + turn[3 * r + 1] * y + turn[3 * r + 2] * z;
      positions[k + r] = value;
      low[r] = Math.min(low[r], value);
      high[r] = Math.max(high[r], value);
    }
  }
  const longest = Math.max(...high.map((h, r) => h - low[r]));
  if (!(longest >= SHORTEST_MM && longest <= LONGEST_MM)) {
    throw new InputError({
      code: mesh.triangles.length === 0 ? 'empty' : 'wrong-unit',
      field: 'unit',
      got: mesh.triangles.length === 0 ? 'no triangles' : `${unit}: longest side ${longest.toPrecision(4)} mm`,
      expected: `a longest side of ${SHORTEST_MM} to ${LONGEST_MM} mm`,
      remedy: 'Check the unit that the scan was saved in.',
    });
  }
  const { triangles } = mesh;
  return { positions, triangles: determinant(turn) < 0 ? rewound(triangles) : triangles };
}

/** Every triangle the other way round. */
export const rewound = (triangles: Uint32Array): Uint32Array =>
  triangles.map((_, k) => triangles[k - (k % 3) + (2 - (k % 3))]);
