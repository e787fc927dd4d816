import type { DistanceField, FootRows } from '../spatial/distance-field.ts';

export type Triple = readonly [number, number, number];

/** One point's exact answer: signed distance, + outside the horse; outward normal; Hessian of the distance. */
interface Answer {
  d: number;
  n: Triple;
  /** Curvatures of the level set through the point with their unit directions. */
  bends: readonly { readonly perMm: number; readonly along: Triple }[];
}

/** Turns a pointwise formula into a field with data everywhere, unless `has` says otherwise. */
export function analyticField(answer: (p: Triple) => Answer, has: (p: Triple) => boolean = () => true): DistanceField {
  return {
    smooth: true,
    evaluate(points, from, to, _side, out, wantHessian) {
      for (let i = from; i < to; i++) {
        const p: Triple = [points[3 * i], points[3 * i + 1], points[3 * i + 2]];
        out.hasData[i] = has(p) ? 1 : 0;
        if (out.hasData[i] === 1) write(out, i, p, answer(p), wantHessian);
      }
    },
  };
}

function write(out: FootRows, i: number, p: Triple, { d, n, bends }: Answer, wantHessian: boolean): void {
  out.distanceMm[i] = d;
  for (let a = 0; a < 3; a++) {
    out.normal[3 * i + a] = n[a];
    out.footMm[3 * i + a] = p[a] - d * n[a];
  }
  if (!wantHessian) return;
  const h = out.hessian.subarray(6 * i, 6 * i + 6);
  h.fill(0);
  for (const { perMm, along: t } of bends) {
    [t[0] * t[0], t[0] * t[1], t[0] * t[2], t[1] * t[1], t[1] * t[2], t[2] * t[2]].forEach((tt, k) => {
      h[k] += perMm * tt;
    });
  }
}

/** Flat back through `at` with outward unit normal `n`. Distance = vertical gap x n_z. */
export const planeField = (at: Triple = [0, 0, 0], n: Triple = [0, 0, 1]): DistanceField =>
  analyticField((p) => ({ d: dot(minus(p, at), n), n, bends: [] }));

/** Two planes falling outward at `slopeRad` from the ridge y = 0, z = 0: each bar asks its own side. */
export function roofField(slopeRad: number): DistanceField {
  const plane = (sign: 1 | -1) => planeField([0, 0, 0], [0, sign * Math.sin(slopeRad), Math.cos(slopeRad)]);
  const sides = { left: plane(-1), right: plane(1) };
  return {
    smooth: true,
    evaluate: (p, from, to, side, out, want) => sides[side].evaluate(p, from, to, side, out, want),
  };
}

/**
 * Round bar along a unit axis. 'convex': the horse is the cylinder; 'valley': the horse is all around it and the outside
 * is within, so a bar lies in the trough.
 */
export function cylinderField(at: Triple, axis: Triple, radius: number, kind: 'convex' | 'valley'): DistanceField {
  const sign = kind === 'convex' ? 1 : -1;
  return analyticField((p) => {
    const r = minus(p, at);
    const along = dot(r, axis);
    const radial: Triple = [r[0] - along * axis[0], r[1] - along * axis[1], r[2] - along * axis[2]];
    const rho = Math.hypot(...radial);
    const out = scaled(radial, 1 / rho);
    return {
      d: sign * (rho - radius),
      n: scaled(out, sign),
      bends: [{ perMm: sign / rho, along: cross(axis, out) }],
    };
  });
}

export function sphereField(at: Triple, radius: number, kind: 'convex' | 'valley'): DistanceField {
  const sign = kind === 'convex' ? 1 : -1;
  return analyticField((p) => {
    const r = minus(p, at);
    const rho = Math.hypot(...r);
    const out = scaled(r, 1 / rho);
    const t = Math.abs(out[0]) < 0.9 ? unit(cross(out, [1, 0, 0])) : unit(cross(out, [0, 1, 0]));
    const perMm = sign / rho;
    return {
      d: sign * (rho - radius),
      n: scaled(out, sign),
      bends: [
        { perMm, along: t },
        { perMm, along: cross(out, t) },
      ],
    };
  });
}

/**
 * Back of a saddle shape: a tube of radius `tube` about a ring of radius `ring` in the plane y = 0, whose lowest inside
 * point is the origin, so the ring's centre is at z = ring - tube. Distance and curvatures: VALIDATION A9.
 */
export function torusField(ring: number, tube: number): DistanceField {
  const zc = ring - tube;
  return analyticField(([x, y, z]) => {
    const q = Math.hypot(x, z - zc);
    const radial: Triple = [x / q, 0, (z - zc) / q];
    const rho = Math.hypot(q - ring, y);
    const c = (q - ring) / rho;
    const s = y / rho;
    return {
      d: rho - tube,
      n: [c * radial[0], s, c * radial[2]],
      bends: [
        { perMm: 1 / rho, along: [-s * radial[0], c, -s * radial[2]] },
        { perMm: c / q, along: [-radial[2], 0, radial[0]] },
      ],
    };
  });
}

/** Height of the torus above over (x, y) on the inner side, for drawing bars from it. */
export function torusHeight(ring: number, tube: number, x: number, y: number): number {
  const radius = ring - Math.sqrt(tube * tube - y * y);
  return ring - tube - Math.sqrt(radius * radius - x * x);
}

/** The same field carried by p' = R p + t (row-major 3x3 R). */
export function movedField(field: DistanceField, r: readonly number[], t: Triple): DistanceField {
  const turn = (v: Triple): Triple => [
    r[0] * v[0] + r[1] * v[1] + r[2] * v[2],
    r[3] * v[0] + r[4] * v[1] + r[5] * v[2],
    r[6] * v[0] + r[7] * v[1] + r[8] * v[2],
  ];
  return {
    smooth: field.smooth,
    evaluate(points, from, to, side, out, wantHessian) {
      const back = new Float64Array(points.length);
      for (let i = from; i < to; i++) {
        const v = minus([points[3 * i], points[3 * i + 1], points[3 * i + 2]], t);
        for (let a = 0; a < 3; a++) back[3 * i + a] = r[a] * v[0] + r[3 + a] * v[1] + r[6 + a] * v[2];
      }
      field.evaluate(back, from, to, side, out, wantHessian);
      for (let i = from; i < to; i++) {
        const n = turn([out.normal[3 * i], out.normal[3 * i + 1], out.normal[3 * i + 2]]);
        const foot = turn([out.footMm[3 * i], out.footMm[3 * i + 1], out.footMm[3 * i + 2]]);
        out.normal.set(n, 3 * i);
        out.footMm.set([foot[0] + t[0], foot[1] + t[1], foot[2] + t[2]], 3 * i);
        if (wantHessian) turnHessian(out.hessian, 6 * i, r);
      }
    },
  };
}

function turnHessian(h: Float64Array, at: number, r: readonly number[]): void {
  const full = [h[at], h[at + 1], h[at + 2], h[at + 1], h[at + 3], h[at + 4], h[at + 2], h[at + 4], h[at + 5]];
  const entry = (a: number, b: number): number => {
    let sum = 0;
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) sum += r[3 * a + i] * full[3 * i + j] * r[3 * b + j];
    return sum;
  };
  h.set([entry(0, 0), entry(0, 1), entry(0, 2), entry(1, 1), entry(1, 2), entry(2, 2)], at);
}

const minus = (a: Triple, b: Triple): Triple => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Triple, b: Triple): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const scaled = (a: Triple, s: number): Triple => [a[0] * s, a[1] * s, a[2] * s];
const unit = (a: Triple): Triple => scaled(a, 1 / Math.hypot(...a));
const cross = (a: Triple, b: Triple): Triple => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
