import { describe, expect, it } from 'vitest';
import { planeField, roofField } from '../../packages/geometry/src/seating/analytic-fields.fixture.ts';
import { contactForce, joinBodies, patchBody, weight } from '../../packages/geometry/src/seating/bodies.fixture.ts';
import { press, refine } from '../../packages/geometry/src/seating/foundation.fixture.ts';
import { type ContactBody, LEVER_MM } from '../../packages/geometry/src/seating/index.ts';

/** Statics of rigid bodies on one-sided springs: VALIDATION A8. W = 900 N. */
const W = 900;

/** Two level strips of the given width at y = +-110, 400 long. */
function pair(widthMm: number, ny: number): ContactBody {
  const strip = { lengthMm: 400, widthMm, nx: 20, ny } as const;
  return joinBodies(
    patchBody({ ...strip, at: [0, -110], side: 'left' }),
    patchBody({ ...strip, at: [0, 110], side: 'right' }),
  );
}

const shares = (body: ContactBody, e: number, k = 3): [number, number] => {
  const seat = press(body, planeField(), k, [weight(W, 0, e)], ['z', 'roll', 'pitch'], { zMm: -0.1 });
  const half = body.count / 2;
  return [contactForce(body, seat, 0, half)[2], contactForce(body, seat, half)[2]];
};

describe('two bars, load off the middle sideways', () => {
  it('narrow strips at y = +-110, e = 20: W/2 (1 +- e/y0) = 531.818 and 368.182 N (1e-4 N, tilt 1e-4 rad)', () => {
    const [left, right] = shares(pair(1, 1), 20);
    expect(right).toBeCloseTo(531.818, 3);
    expect(left).toBeCloseTo(368.182, 3);
  });

  it("strips w wide share W/2 (1 +- e y0/(y0^2 + w^2/12)): each bar's own width takes part of the moment", () => {
    const w = 60;
    const exact = (W / 2) * (1 + (20 * 110) / (110 ** 2 + (w * w) / 12));
    const study = refine([4, 8, 16], (n) => shares(pair(w, n), 20)[1] / exact - 1);
    expect(study.finest).toBeLessThan(1e-4);
    expect(study.order).toBeGreaterThan(1.6);
    expect(study.order).toBeLessThan(2.4);
  });

  it('a load on one strip, e = y0, leaves the other without load', () => {
    const [left, right] = shares(pair(1, 1), 110);
    expect(left).toBeLessThan(1e-6 * W);
    expect(right).toBeCloseTo(W, 6);
  });
});

describe('pitched bars on matching pitched planes, no friction', () => {
  const slope = (40 * Math.PI) / 180;
  /** Bars 400 x 80 along the slope; areas are those of the sloped undersides. */
  const bar = (sign: 1 | -1): ContactBody =>
    patchBody({
      lengthMm: 400,
      widthMm: 80 * Math.cos(slope),
      nx: 20,
      ny: 8,
      at: [0, sign * 120],
      side: sign > 0 ? 'right' : 'left',
      heightMm: (_x, y) => -Math.abs(y) * Math.tan(slope),
      stretch: () => 1 / Math.cos(slope),
    });

  it('each bar carries W/(2 cos) = 587.433 N along its normal and spreads with (W/2) tan = 377.595 N', () => {
    const body = joinBodies(bar(-1), bar(1));
    const seat = press(body, roofField(slope), 0.03, [weight(W, 0, 0, 150)], ['z', 'roll', 'pitch']);
    const right = contactForce(body, seat, body.count / 2);
    const left = contactForce(body, seat, 0, body.count / 2);
    expect(seat.status).toBe('settled');
    expect(Math.hypot(...right)).toBeCloseTo(587.433, 3);
    expect(right[1]).toBeCloseTo(377.595, 3);
    expect(left[1]).toBeCloseTo(-377.595, 3);
    expect(right[2] + left[2]).toBeCloseTo(W, 6);
    // Sinks along z by squeeze / cos: the squeeze is the Euclidean one.
    const squeeze = W / 2 / Math.cos(slope) / (0.03 * 400 * 80);
    expect(-seat.pose.zMm * Math.cos(slope)).toBeCloseTo(squeeze, 9);
  });

  it('mean pressure is W / (2 A cos)', () => {
    const body = joinBodies(bar(-1), bar(1));
    const seat = press(body, roofField(slope), 0.03, [weight(W)], ['z', 'roll', 'pitch']);
    expect(seat.pressureMPa[0]).toBeCloseTo(W / (2 * 400 * 80 * Math.cos(slope)), 9);
  });

  it('one bar alone with its shift held: the held sideways force is W tan, and the gradient shows it', () => {
    const seat = press(
      bar(1),
      roofField(slope),
      0.03,
      [weight(W, 0, 120, -120 * Math.tan(slope))],
      ['z', 'roll', 'pitch'],
    );
    // Gradient = - (force of the contact): the shift must be held against an outward push of W tan.
    expect(-seat.equilibrium.gradient[1]).toBeCloseTo(W * Math.tan(slope), 4);
    expect(seat.equilibrium.gradient[0]).toBeCloseTo(0, 9);
  });
});

/** Solves a 3 x 3 system by Cramer's rule. */
function solve3(m: readonly (readonly number[])[], b: readonly number[]): number[] {
  const det = (c: readonly (readonly number[])[]): number =>
    c[0][0] * (c[1][1] * c[2][2] - c[1][2] * c[2][1]) -
    c[0][1] * (c[1][0] * c[2][2] - c[1][2] * c[2][0]) +
    c[0][2] * (c[1][0] * c[2][1] - c[1][1] * c[2][0]);
  const whole = det(m);
  return [0, 1, 2].map((k) => det(m.map((row, i) => row.map((v, j) => (j === k ? b[i] : v)))) / whole);
}

interface Spring {
  readonly x: number;
  readonly y: number;
  readonly k: number;
}

/** Forces of one-sided vertical springs: w = d + sx x + sy y, springs that would pull dropped until none does. */
function springForces(springs: readonly Spring[], load: readonly [number, number]): number[] {
  let active = springs.map(() => true);
  for (let pass = 0; pass < springs.length; pass++) {
    const on = springs.filter((_, i) => active[i]);
    const sum = (f: (s: Spring) => number): number => on.reduce((total, s) => total + s.k * f(s), 0);
    const matrix = [
      [sum(() => 1), sum((s) => s.x), sum((s) => s.y)],
      [sum((s) => s.x), sum((s) => s.x * s.x), sum((s) => s.x * s.y)],
      [sum((s) => s.y), sum((s) => s.x * s.y), sum((s) => s.y * s.y)],
    ];
    const [d, sx, sy] = solve3(matrix, [W, W * load[0], W * load[1]]);
    const sinks = springs.map((s) => d + sx * s.x + sy * s.y);
    const next = sinks.map((w) => w > 0);
    if (next.every((v, i) => v === active[i])) return springs.map((s, i) => (active[i] ? s.k * sinks[i] : 0));
    active = next;
  }
  throw new Error('springForces: the set of pressed springs did not settle');
}

function springBody(springs: readonly Spring[], k: number): ContactBody {
  return {
    count: springs.length,
    pointsMm: Float64Array.from(springs.flatMap((s) => [s.x, s.y, 0])),
    areaMm2: Float64Array.from(springs, (s) => s.k / k),
    bars: [{ side: 'right', from: 0, to: springs.length }],
  };
}

describe('rigid body on vertical springs (tilts near 1e-5 rad: small-angle statics to 1e-6)', () => {
  const K = 1000;
  const forces = (springs: readonly Spring[], load: readonly [number, number]): number[] => {
    const body = springBody(springs, K);
    const seat = press(body, planeField(), K, [weight(W, ...load)], ['z', 'roll', 'pitch'], { zMm: -1e-3 });
    return Array.from(body.areaMm2, (a, i) => a * seat.pressureMPa[i]);
  };

  it('three springs: statics alone decides, whatever the stiffnesses', () => {
    const place = [
      [0, 0],
      [400, 100],
      [100, 300],
    ] as const;
    const at = [150, 120] as const;
    const [a, b, c] = solve3(
      [
        [1, 1, 1],
        [0, 400, 100],
        [0, 100, 300],
      ],
      [W, W * at[0], W * at[1]],
    );
    for (const stiffness of [
      [2e4, 2e4, 2e4],
      [1e4, 9e4, 3e4],
    ]) {
      const got = forces(
        place.map(([x, y], i) => ({ x, y, k: stiffness[i] })),
        at,
      );
      expect(got[0]).toBeCloseTo(a, 2);
      expect(got[1]).toBeCloseTo(b, 2);
      expect(got[2]).toBeCloseTo(c, 2);
    }
  });

  it('six unequal springs, some of which would pull: same forces as dropping them by hand (0.01 N)', () => {
    const springs: Spring[] = [
      { x: -200, y: -100, k: 2e4 },
      { x: 0, y: -110, k: 3e4 },
      { x: 210, y: -100, k: 1e4 },
      { x: -190, y: 100, k: 4e4 },
      { x: 10, y: 120, k: 1e4 },
      { x: 200, y: 90, k: 2e4 },
    ];
    for (const at of [
      [0, 0],
      [120, 60],
      [170, 75],
    ] as const) {
      const expected = springForces(springs, at);
      const got = forces(springs, at);
      expected.forEach((f, i) => {
        expect(Math.abs(got[i] - f)).toBeLessThan(0.01);
      });
    }
    expect(springForces(springs, [170, 75]).filter((f) => f === 0).length).toBeGreaterThan(0);
  });

  it('the Hessian of a pressed level block is the stiffness matrix of its springs', () => {
    const body = patchBody({ lengthMm: 400, widthMm: 60, nx: 40, ny: 6 });
    const { equilibrium } = press(body, planeField(), 0.03, [weight(720)], ['z', 'roll', 'pitch']);
    const at = (i: number, j: number): number => equilibrium.hessian[6 * i + j];
    const ixx = 0.03 * body.areaMm2.reduce((sum, a, i) => sum + a * body.pointsMm[3 * i] ** 2, 0);
    expect(at(2, 2)).toBeCloseTo(720, 6);
    expect(at(4, 4) * LEVER_MM ** 2).toBeCloseTo(ixx, 0);
    expect(at(2, 4)).toBeCloseTo(0, 6);
  });
});
