import type { ScanUnit } from '@barwright/geometry';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import { type Point, rowsOf, UNIT_MM, type Way } from './scan-way.ts';

/**
 * Where a scan stands in the picture: mm, x to the tail, y to the right from the midplane, z up from the lowest point. Row-major
 * 3x3 times millimetres, for coordinates less the drawing's centre, then the shift.
 */
export interface HorseFrame {
  readonly rows: readonly number[];
  readonly shiftMm: Point;
  readonly min: Point;
  readonly max: Point;
}

export interface FrameMarks {
  readonly withersTop: Point | null;
  readonly lastRib: Point | null;
  /** A point of the mirror plane and its normal, in the file's coordinates. */
  readonly midplane: { readonly pointInFile: Point; readonly normalInFile: Point } | null;
}

interface Drawn {
  readonly centre: Point;
  readonly positions: Float32Array;
}

const LEAST_TOPLINE_MM = 100;
/** A mirror plane further than this from the axis to the right belongs to another way of lying. */
const MOST_YAW_RAD = 0.8;

/** The horse frame of unit and way, turned about up so that the midplane through the marks is y = 0. */
export function horseFrame(way: Way, unit: ScanUnit, marks: FrameMarks, { centre, positions }: Drawn): HorseFrame {
  const level = rowsOf(way).map((value) => value * UNIT_MM[unit]);
  const place = (p: Point): Point => multiply(level, [p[0] - centre[0], p[1] - centre[1], p[2] - centre[2]]);
  const { yawRad, through } = midplaneIn(marks, place, level);
  const [c, s] = [Math.cos(yawRad), Math.sin(yawRad)];
  const rows = [0, 1, 2].flatMap((r) =>
    [0, 1, 2].map((k) =>
      r === 0 ? c * level[k]! + s * level[3 + k]! : r === 1 ? c * level[3 + k]! - s * level[k]! : level[6 + k]!,
    ),
  );
  const { min, max } = boundsOf(rows, positions);
  const midY = through === null ? (min[1] + max[1]) / 2 : c * through[1] - s * through[0];
  const shiftMm: Point = [-(min[0] + max[0]) / 2, -midY, -min[2]];
  const moved = (p: Point): Point => [p[0] + shiftMm[0], p[1] + shiftMm[1], p[2] + shiftMm[2]];
  return { rows, shiftMm, min: moved(min), max: moved(max) };
}

function midplaneIn(
  { withersTop, lastRib, midplane }: FrameMarks,
  place: (p: Point) => Point,
  level: readonly number[],
): { yawRad: number; through: Point | null } {
  if (withersTop !== null && lastRib !== null) {
    const [a, b] = [place(withersTop), place(lastRib)];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    if (dx > LEAST_TOPLINE_MM && dx > Math.abs(dy)) return { yawRad: Math.atan2(dy, dx), through: a };
  }
  if (midplane === null) return { yawRad: 0, through: null };
  const normal = multiply(level, midplane.normalInFile);
  const side = normal[1] < 0 ? -1 : 1;
  const yawRad = Math.atan2(-side * normal[0], side * normal[1]);
  const isLevel = Math.abs(normal[2]) < 0.3 * Math.hypot(...normal);
  if (!isLevel || Math.abs(yawRad) > MOST_YAW_RAD) return { yawRad: 0, through: null };
  return { yawRad, through: place(midplane.pointInFile) };
}

const multiply = (m: readonly number[], p: Point): Point =>
  [0, 3, 6].map((r) => m[r]! * p[0] + m[r + 1]! * p[1] + m[r + 2]! * p[2]) as unknown as Point;

function boundsOf(rows: readonly number[], positions: Float32Array): { min: Point; max: Point } {
  const min = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const max = min.map((value) => -value);
  for (let i = 0; i < positions.length; i += 3) {
    const p = multiply(rows, [positions[i]!, positions[i + 1]!, positions[i + 2]!]);
    for (let k = 0; k < 3; k++) {
      if (p[k]! < min[k]!) min[k] = p[k]!;
      if (p[k]! > max[k]!) max[k] = p[k]!;
    }
  }
  return { min: min as unknown as Point, max: max as unknown as Point };
}

/** A point of the file in the horse frame, mm. */
export function intoHorse({ rows, shiftMm }: HorseFrame, centre: Point, p: Point): Point {
  const q = multiply(rows, [p[0] - centre[0], p[1] - centre[1], p[2] - centre[2]]);
  return [q[0] + shiftMm[0], q[1] + shiftMm[1], q[2] + shiftMm[2]];
}

/** ... and back: the transpose over the squared scale. */
export function intoFile({ rows, shiftMm }: HorseFrame, centre: Point, p: Point): Point {
  const scale2 = rows[0]! ** 2 + rows[1]! ** 2 + rows[2]! ** 2;
  const q = [p[0] - shiftMm[0], p[1] - shiftMm[1], p[2] - shiftMm[2]];
  return [0, 1, 2].map(
    (k) => (rows[k]! * q[0]! + rows[3 + k]! * q[1]! + rows[6 + k]! * q[2]!) / scale2 + centre[k]!,
  ) as unknown as Point;
}

/** A round length of 1, 2 or 5 times a power of ten, at most a share of a length. */
export function roundLength(mostMm: number): number {
  const power = 10 ** Math.floor(Math.log10(mostMm));
  return ([5, 2, 1].find((digit) => digit * power <= mostMm * (1 + 1e-9)) ?? 1) * power;
}

export const sideMm = ({ min, max }: HorseFrame): number => Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);

/** Length of the scale bar in the picture. */
export const barLengthMm = (frame: HorseFrame): number => roundLength(0.4 * sideMm(frame));

/** Words beside the picture's arrows and scale bar. */
export const pictureWords = (frame: HorseFrame): string[] => [
  ...SCAN_TEXTS.picture.arrows,
  SCAN_TEXTS.picture.scaleBar(barLengthMm(frame).toLocaleString('en-GB')),
];
