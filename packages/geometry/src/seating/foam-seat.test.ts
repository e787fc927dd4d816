import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LayerStack, stackLayers } from '../layers/index.ts';
import { createFootRows, type DistanceField } from '../spatial/distance-field.ts';
import { planeField, torusField, torusHeight } from './analytic-fields.fixture.ts';
import { contactForce, highest, ORIGIN, patchBody, pressedArea, weight } from './bodies.fixture.ts';
import { assembleEquilibrium, type ContactBody, createEquilibrium, placePoints, queryFeet } from './contact-energy.ts';
import { materialsUsed } from './materials-used.ts';
import { movePose, type Pose } from './pose.ts';
import { seatBody } from './seat.ts';
import { SETUP_DEFAULTS, setupSchema } from './setup-schema.ts';

const THICK = 20;
const PAD = { name: 'pad', thicknessMm: THICK, material: 'closed-cell foam' };
const TISSUE = { name: 'soft tissue', thicknessMm: 0, stiffnessKPaPerMm: 3 };
const FOAM = stackLayers([PAD]);
const BOTH = stackLayers([TISSUE, PAD]);

/** Straight from the formula, MPa (VALIDATION B: gas law, walls ramped over the first 2 %). */
const foamMPa = (squeezeMm: number): number => {
  const e = squeezeMm / THICK;
  return e <= 0 ? 0 : 1e-3 * (5.4 * (1 - Math.exp(-e / 0.02)) + (101.3 * e) / (1 - e - 33 / 920));
};

/** x with f(x) = 0 by halving, f rising. */
function rootOf(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let i = 0; i < 100; i++) {
    const mid = 0.5 * (a + b);
    if (f(mid) < 0) a = mid;
    else b = mid;
  }
  return 0.5 * (a + b);
}

/** Simpson's rule over [-h, h]. */
function integral(f: (x: number) => number, h: number, n = 4000): number {
  let sum = 0;
  for (let i = 0; i <= n; i++) sum += (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * f(-h + (2 * h * i) / n);
  return (sum * 2 * h) / n / 3;
}

describe('foam under rigid bodies', () => {
  it('flat block, 400 x 60 mm: sinks as the inverse of the law says for F/A, 100 to 3000 N (1e-5 of the depth)', () => {
    const body = patchBody({ lengthMm: 400, widthMm: 60, nx: 40, ny: 6 });
    for (const newtons of [100, 600, 1500, 3000]) {
      const seat = seatBody(body, planeField(), FOAM, [weight(newtons)], { ...ORIGIN, zMm: 19.5 }, { free: ['z'] });
      const depth = rootOf((c) => foamMPa(c) - newtons / 24_000, 0, 19);
      expect(seat.status).toBe('settled');
      expect(Math.abs((THICK - seat.pose.zMm) / depth - 1)).toBeLessThan(1e-5);
      expect(highest(seat.pressureMPa)).toBeCloseTo(newtons / 24_000, 9);
    }
  });

  it('bridged bar, 500 x 60 mm, kap 2e-4, 1500 N: end depth, end pressure and open middle by quadrature (0.5 %)', () => {
    const [half, kap, newtons] = [250, 2e-4, 1500];
    const squeeze = (x: number, end: number): number => end - (kap * (half * half - x * x)) / 2;
    const end = rootOf((d) => 60 * integral((x) => foamMPa(squeeze(x, d)), half) - newtons, 0, 18);
    const openMm = rootOf((x) => squeeze(x, end), 0, half);
    const body = patchBody({
      lengthMm: 500,
      widthMm: 60,
      nx: 500,
      ny: 1,
      heightMm: (x) => (kap * (half * half - x * x)) / 2,
      rule: 'nodes',
    });
    const seat = seatBody(body, planeField(), FOAM, [weight(newtons)], { ...ORIGIN, zMm: 19 });
    expect(seat.status).toBe('settled');
    expect(Math.abs((THICK - seat.pose.zMm) / end - 1)).toBeLessThan(0.005);
    expect(Math.abs(highest(seat.pressureMPa) / foamMPa(end) - 1)).toBeLessThan(0.005);
    expect(Math.abs(pressedArea(body, seat) / (120 * (half - openMm)) - 1)).toBeLessThan(0.01);
    expect(Math.abs(contactForce(body, seat)[2] / newtons - 1)).toBeLessThan(1e-6);
  });
});

/** Saddle-shaped body a little flatter than the torus it meets: some cells pressed, some clear. */
const SADDLE = patchBody({
  lengthMm: 300,
  widthMm: 120,
  nx: 45,
  ny: 23,
  at: [0, 70],
  heightMm: (x, y) => torusHeight(1600, 300, x, y),
});
const BACK = torusField(900, 260);
const LOADS = [weight(800, 12, 66, 150)];

function equilibrium(body: ContactBody, field: DistanceField, pose: Pose, stack: LayerStack) {
  const placed = new Float64Array(3 * body.count);
  const rows = createFootRows(body.count);
  placePoints(body.pointsMm, pose, placed);
  queryFeet(field, body, placed, rows, true);
  return assembleEquilibrium(body, placed, rows, rows.hasData, stack, LOADS, pose, createEquilibrium());
}

const nudged = (pose: Pose, freedom: number, by: number): Pose => {
  const step = new Float64Array(6);
  step[freedom] = by;
  return movePose(pose, step);
};

describe('energy of layers that stiffen', () => {
  it('gradient within 1e-6 and Hessian within 1e-3 of central differences at a tilted pose', () => {
    const pose: Pose = { xMm: 4, yMm: -3, zMm: 12, rollRad: 0.05, pitchRad: -0.03, yawRad: 0.06 };
    const here = equilibrium(SADDLE, BACK, pose, BOTH);
    expect(here.pressedCells).toBeGreaterThan(200);
    expect(here.pressedCells).toBeLessThan(SADDLE.count);
    const scale = Math.max(...here.gradient.map(Math.abs));
    const stiff = Math.max(...here.hessian.map(Math.abs));
    const h = 1e-3;
    for (let a = 0; a < 6; a++) {
      const [ahead, behind] = [h, -h].map((by) => equilibrium(SADDLE, BACK, nudged(pose, a, by), BOTH));
      expect(Math.abs((ahead!.energy - behind!.energy) / (2 * h) - here.gradient[a]!)).toBeLessThan(1e-6 * scale);
      for (let b = 0; b < 6; b++) {
        const difference = (ahead!.gradient[b]! - behind!.gradient[b]!) / (2 * h);
        expect(Math.abs(difference - here.hessian[6 * a + b]!)).toBeLessThan(1e-3 * stiff);
      }
    }
  });

  it('falls with every step of Newton', () => {
    const start: Pose = { ...ORIGIN, zMm: 18, rollRad: 0.04, pitchRad: 0.03 };
    const energies = [1, 2, 3, 4, 6, 9].map(
      (mostSteps) => seatBody(SADDLE, BACK, BOTH, LOADS, start, { mostSteps }).equilibrium.energy,
    );
    for (let i = 1; i < energies.length; i++) {
      expect(energies[i]!).toBeLessThanOrEqual(energies[i - 1]! + 1e-9 * Math.abs(energies[0]!));
    }
    expect(energies.at(-1)!).toBeLessThan(energies[0]!);
  });

  it('is convex along straight moves over a plane (seed 71, 60 pairs of places)', () => {
    const body = patchBody({ lengthMm: 200, widthMm: 60, nx: 20, ny: 6 });
    const energyAt = (z: number): number => equilibrium(body, planeField(), { ...ORIGIN, zMm: z }, BOTH).energy;
    const place = fc.double({ min: 1, max: 30, noNaN: true });
    fc.assert(
      fc.property(place, place, fc.double({ min: 0.05, max: 0.95, noNaN: true }), (a, b, share) => {
        const between = (1 - share) * energyAt(a) + share * energyAt(b);
        expect(energyAt((1 - share) * a + share * b)).toBeLessThanOrEqual(between + 1e-9 * Math.abs(between));
      }),
      { seed: 71, numRuns: 60 },
    );
  });
});

describe('a warm pad', () => {
  const seated = [-10, 5, 23, 35, 45].map((temperatureC) =>
    seatBody(SADDLE, BACK, stackLayers([TISSUE, PAD], { temperatureC }), LOADS, { ...ORIGIN, zMm: 18 }),
  );

  it('carries the load to 1e-6 at every temperature, forces and moments about the free axes', () => {
    for (const seat of seated) {
      expect(seat.status).toBe('settled');
      expect(seat.relativeResidual).toBeLessThan(1e-6);
      expect(Math.abs(contactForce(SADDLE, seat)[2] / 800 - 1)).toBeLessThan(1e-6);
    }
  });

  it('sinks further, spreads the load over more area and presses less at the peak', () => {
    const areas = seated.map((seat) => pressedArea(SADDLE, seat));
    const peaks = seated.map((seat) => highest(seat.pressureMPa));
    const heights = seated.map((seat) => seat.pose.zMm);
    for (let i = 1; i < seated.length; i++) {
      expect(areas[i]!).toBeGreaterThanOrEqual(areas[i - 1]!);
      expect(peaks[i]!).toBeLessThan(peaks[i - 1]!);
      expect(heights[i]!).toBeLessThan(heights[i - 1]!);
    }
    expect(areas.at(-1)!).toBeGreaterThan(areas[0]!);
  });

  it('two points of a curve on one line seat as the linear layer does (1e-9 mm)', () => {
    const linear = stackLayers([TISSUE, { name: 'pad', thicknessMm: THICK, stiffnessKPaPerMm: 2.5 }]);
    const curve = stackLayers([
      TISSUE,
      {
        name: 'pad',
        thicknessMm: THICK,
        curve: [
          [20, 10],
          [60, 30],
        ],
      },
    ]);
    const [a, b] = [linear, curve].map((stack) => seatBody(SADDLE, BACK, stack, LOADS, { ...ORIGIN, zMm: 18 }));
    expect(curve.law.linear).toBe(null);
    expect(Math.abs(a!.pose.zMm - b!.pose.zMm)).toBeLessThan(1e-9);
    expect(Math.abs(a!.pose.rollRad - b!.pose.rollRad)).toBeLessThan(1e-11);
  });
});

describe('materials used', () => {
  it('name value, span, source, warmth and time of every layer', () => {
    const setup = setupSchema.parse({
      layers: [TISSUE, PAD],
      warmth: { ambientC: 15, minutes: 20 },
      flex: { hours: 10 },
    });
    const [tissue, pad] = materialsUsed(setup, null);
    expect(tissue).toMatchObject({ part: 'soft tissue', value: 3, unit: 'kPa/mm', range: null, warmth: null });
    expect(pad!.warmth!.temperatureC).toBeCloseTo(15 + 16 * (1 - Math.exp(-2)), 12);
    expect(pad!.value).toBeCloseTo(1000 * foamMPa(5) * pad!.warmth!.factor, 9);
    expect(pad!.time).toMatchObject({ hours: 10, factor: 0.94 });
    expect(pad!.source).toContain('ISO 3386-1');
    expect(materialsUsed(SETUP_DEFAULTS, null).map(({ unit }) => unit)).toEqual(['kPa/mm', 'kPa/mm']);
  });
});
