import {
  barToHorse,
  outwardY,
  probeTree,
  type SeatedTree,
  type Side,
  thicknessAt,
  transformPoint,
  treeLengthMm,
  undersidePoint,
} from '@barwright/geometry';
import type { CutBar, CutView } from '../contract.ts';

const BACK_HALF_WIDTH_MM = 240;
const BACK_STEP_MM = 4;
const ACROSS = 41;
const DEGREES = 180 / Math.PI;

/** Both bars and the back in the crosswise plane at x, settled. Slopes and gaps are read as the mismatch reads them. */
export function cutAt(seated: SeatedTree, xMm: number): CutView {
  const count = (2 * BACK_HALF_WIDTH_MM) / BACK_STEP_MM + 1;
  const back = new Float32Array(2 * count);
  for (let i = 0; i < count; i++) {
    const y = i * BACK_STEP_MM - BACK_HALF_WIDTH_MM;
    back[2 * i] = y;
    back[2 * i + 1] = seated.back.heightMm(xMm, y);
  }
  return { xMm, back, left: cutBar(seated, 'left', xMm), right: cutBar(seated, 'right', xMm) };
}

function cutBar(seated: SeatedTree, side: Side, xMm: number): CutBar | null {
  const { loaded: tree, seat, back, setup, stack } = seated;
  const length = treeLengthMm(tree);
  const matrix = barToHorse(seat.pose);
  const place = (b: number, t: number): [number, number, number] => {
    const [x, y, z] = undersidePoint(tree, side, b, outwardY(tree, side, b, t));
    return transformPoint(matrix, x, y, z);
  };
  const middle = stationAt(place, 0, xMm, length);
  if (middle === null) return null;
  const points = Array.from({ length: ACROSS }, (_, j) => {
    const t = -1 + (2 * j) / (ACROSS - 1);
    const b = stationAt(place, t, xMm, length) ?? middle;
    const [, y, z] = place(b, t);
    return { t, y, z };
  });
  const { pointsMm, rows } = probeTree(tree, side, seat.pose, back, setup.path, [
    { bMm: middle, across: 'inner' },
    { bMm: middle, across: 0 },
    { bMm: middle, across: 'outer' },
  ]);
  const gap = (i: number): number | null => (rows.hasData[i] === 1 ? rows.distanceMm[i]! - stack.thicknessMm : null);
  const feetKnown = rows.hasData[0] === 1 && rows.hasData[2] === 1;
  const thickness = thicknessAt(tree[side], middle);
  return {
    bMm: middle,
    underside: Float32Array.from(points.flatMap(({ y, z }) => [y, z])),
    top: topLine(points, thickness),
    barSlopeDeg: fallDeg(pointsMm, 0, 6),
    backSlopeDeg: feetKnown ? fallDeg(rows.footMm, 0, 6) : null,
    gapInnerMm: gap(0),
    gapMiddleMm: gap(1),
    gapOuterMm: gap(2),
  };
}

/** b at which the line of constant t crosses x = xMm: x changes with b nearly one to one, so a few steps land. */
function stationAt(
  place: (b: number, t: number) => readonly number[],
  t: number,
  xMm: number,
  lengthMm: number,
): number | null {
  let b = lengthMm / 2;
  for (let i = 0; i < 4; i++)
    b += xMm - place(Math.min(lengthMm, Math.max(0, b)), t)[0]! - Math.min(0, b) - Math.max(0, b - lengthMm);
  return b < 0 || b > lengthMm ? null : b;
}

const fallDeg = (p: Float64Array, inner: number, outer: number): number =>
  DEGREES * Math.atan2(p[inner + 2]! - p[outer + 2]!, Math.abs(p[outer + 1]!) - Math.abs(p[inner + 1]!));

function topLine(points: readonly { t: number; y: number; z: number }[], thickness: number): Float32Array {
  const first = points[0]!;
  const last = points[points.length - 1]!;
  const length = Math.hypot(last.y - first.y, last.z - first.z) || 1;
  const sign = last.y > first.y ? 1 : -1;
  const up = { y: (-sign * (last.z - first.z)) / length, z: Math.abs(last.y - first.y) / length };
  return Float32Array.from(
    points.flatMap(({ t, y, z }) => {
      const lift = thickness * (1 - 0.45 * Math.abs(t) ** 5);
      return [y + lift * up.y, z + lift * up.z];
    }),
  );
}
