import type { Side } from '../spatial/distance-field.ts';
import type { ContactBody, Load } from './contact-energy.ts';
import type { Pose } from './pose.ts';
import type { Seat } from './seat.ts';

export const ORIGIN: Pose = { xMm: 0, yMm: 0, zMm: 0, rollRad: 0, pitchRad: 0, yawRad: 0 };

export interface Patch {
  /** Extent along x and y, mm. */
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly nx: number;
  readonly ny: number;
  /** Underside over (x, y) in the body's own frame; 0 when left out. */
  readonly heightMm?: (x: number, y: number) => number;
  /** Middle of the patch. */
  readonly at?: readonly [number, number];
  readonly side?: Side;
  /** 'centres': midpoint rule. 'nodes': points on the edges too, trapezoid rule along x, midpoints across. */
  readonly rule?: 'centres' | 'nodes';
  /** 1 counts the plan area of each cell (vertical-gap closed forms), otherwise the area itself from its plan area. */
  readonly stretch?: (x: number, y: number) => number;
}

/** A patch of cells over a plan rectangle. Areas are plan areas unless `stretch` is given: most closed forms count plan area. */
export function patchBody(patch: Patch): ContactBody {
  const { lengthMm, widthMm, nx, ny, heightMm = () => 0, at = [0, 0], side = 'right', stretch = () => 1 } = patch;
  const nodes = patch.rule === 'nodes';
  const columns = nodes ? nx + 1 : nx;
  const dx = lengthMm / nx;
  const dy = widthMm / ny;
  const count = columns * ny;
  const pointsMm = new Float64Array(3 * count);
  const areaMm2 = new Float64Array(count);
  for (let i = 0; i < columns; i++) {
    const x = at[0] - lengthMm / 2 + (nodes ? i : i + 0.5) * dx;
    const share = nodes && (i === 0 || i === nx) ? 0.5 : 1;
    for (let j = 0; j < ny; j++) {
      const y = at[1] - widthMm / 2 + (j + 0.5) * dy;
      const k = i * ny + j;
      pointsMm.set([x, y, heightMm(x, y)], 3 * k);
      areaMm2[k] = dx * dy * share * stretch(x, y);
    }
  }
  return { count, pointsMm, areaMm2, bars: [{ side, from: 0, to: count }] };
}

/** A flat disc of radius R cut into polar cells, each with its exact area and its centroid's radius. */
export function discBody(radius: number, rings: number, spokes: number): ContactBody {
  const count = rings * spokes;
  const pointsMm = new Float64Array(3 * count);
  const areaMm2 = new Float64Array(count);
  for (let i = 0; i < rings; i++) {
    const a = (radius * i) / rings;
    const b = (radius * (i + 1)) / rings;
    const half = Math.PI / spokes;
    const r = ((2 / 3) * (b ** 3 - a ** 3) * Math.sin(half)) / ((b * b - a * a) * half);
    for (let j = 0; j < spokes; j++) {
      const phi = 2 * half * (j + 0.5);
      pointsMm.set([r * Math.cos(phi), r * Math.sin(phi), 0], 3 * (i * spokes + j));
      areaMm2[i * spokes + j] = (b * b - a * a) * half;
    }
  }
  return { count, pointsMm, areaMm2, bars: [{ side: 'right', from: 0, to: count }] };
}

/** Bodies fixed to one another. */
export function joinBodies(...bodies: readonly ContactBody[]): ContactBody {
  const count = bodies.reduce((n, b) => n + b.count, 0);
  const pointsMm = new Float64Array(3 * count);
  const areaMm2 = new Float64Array(count);
  const bars: { side: Side; from: number; to: number }[] = [];
  let at = 0;
  for (const body of bodies) {
    pointsMm.set(body.pointsMm, 3 * at);
    areaMm2.set(body.areaMm2, at);
    for (const bar of body.bars) bars.push({ side: bar.side, from: bar.from + at, to: bar.to + at });
    at += body.count;
  }
  return { count, pointsMm, areaMm2, bars };
}

/** A dead weight at a place of the body. */
export const weight = (newtons: number, x = 0, y = 0, z = 0): Load => ({
  pointMm: [x, y, z],
  forceN: [0, 0, -newtons],
});

/** Force on the body from cells [from, to), N, horse frame. */
export function contactForce(body: ContactBody, seat: Seat, from = 0, to = body.count): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  for (let i = from; i < to; i++) {
    if (!(seat.pressureMPa[i] > 0)) continue;
    for (let a = 0; a < 3; a++) sum[a] += seat.pressureMPa[i] * body.areaMm2[i] * seat.rows.normal[3 * i + a];
  }
  return sum;
}

/** Moment of the contact forces and the loads about the pose's origin, N mm, horse frame. */
export function totalMoment(body: ContactBody, seat: Seat, loads: readonly Load[], placedLoads: Float64Array) {
  const sum: [number, number, number] = [0, 0, 0];
  const add = (r: ArrayLike<number>, at: number, f: readonly number[]): void => {
    const [x, y, z] = [r[at] - seat.pose.xMm, r[at + 1] - seat.pose.yMm, r[at + 2] - seat.pose.zMm];
    sum[0] += y * f[2] - z * f[1];
    sum[1] += z * f[0] - x * f[2];
    sum[2] += x * f[1] - y * f[0];
  };
  for (let i = 0; i < body.count; i++) {
    const n = seat.pressureMPa[i] * body.areaMm2[i];
    if (!(n > 0)) continue;
    const normal = seat.rows.normal;
    add(seat.placedMm, 3 * i, [n * normal[3 * i], n * normal[3 * i + 1], n * normal[3 * i + 2]]);
  }
  loads.forEach((load, i) => {
    add(placedLoads, 3 * i, load.forceN);
  });
  return sum;
}

/** Area of the pressed cells, mm2. */
export const pressedArea = (body: ContactBody, seat: Seat): number =>
  body.areaMm2.reduce((sum, a, i) => sum + (seat.pressureMPa[i] > 0 ? a : 0), 0);

export const highest = (values: Float64Array): number => values.reduce((a, b) => Math.max(a, b), 0);

/** Slope of log(error) over log(size) by least squares: the order of convergence. */
export function convergenceOrder(sizes: readonly number[], errors: readonly number[]): number {
  const x = sizes.map(Math.log);
  const y = errors.map((e) => Math.log(Math.abs(e)));
  const mx = x.reduce((a, b) => a + b, 0) / x.length;
  const my = y.reduce((a, b) => a + b, 0) / y.length;
  let top = 0;
  let bottom = 0;
  x.forEach((xi, i) => {
    top += (xi - mx) * (y[i] - my);
    bottom += (xi - mx) ** 2;
  });
  return top / bottom;
}

export const rootMeanSquare = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
