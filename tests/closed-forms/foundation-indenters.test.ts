import { describe, expect, it } from 'vitest';
import { squeezeByLayer, stackLayers } from '../../packages/geometry/src/layers/index.ts';
import { planeField } from '../../packages/geometry/src/seating/analytic-fields.fixture.ts';
import { highest, patchBody, pressedArea, weight } from '../../packages/geometry/src/seating/bodies.fixture.ts';
import { press, refine } from '../../packages/geometry/src/seating/foundation.fixture.ts';

/**
 * Rigid indenters on a linear one-sided foundation, k = 0.03 N/mm3: VALIDATION A1 (Johnson, Contact Mechanics, 1985,
 * sec. 4.3, from memory). On a flat back with normal z the Euclidean distance is the vertical gap itself, and cells carry
 * their plan area, as the closed forms do; so the only error is the grid's.
 */
const K = 0.03;
const DEPTH = 4;
const RADIUS = 100;

interface Indenter {
  readonly name: string;
  readonly height: (x: number, y: number) => number;
  /** Plan window that holds the contact, mm. */
  readonly window: readonly [number, number];
  readonly forceN: number;
  readonly areaMm2: number;
  readonly levels: readonly number[];
  /** Cells across y; the profile is constant there for cylinder and wedge. */
  readonly across?: number;
}

const parabola = (x: number, y: number, rx: number, ry: number): number => (x * x) / (2 * rx) + (y * y) / (2 * ry);
const TAN10 = Math.tan((10 * Math.PI) / 180);
const LEVELS = [12, 24, 48, 96];
const LINE_LEVELS = [20, 40, 80, 160, 320];

const INDENTERS: readonly Indenter[] = [
  {
    name: 'paraboloid',
    height: (x, y) => parabola(x, y, RADIUS, RADIUS),
    window: [64, 64],
    forceN: 150.796,
    areaMm2: 2513.27,
    levels: LEVELS,
  },
  {
    name: 'true sphere',
    height: (x, y) => RADIUS - Math.sqrt(RADIUS * RADIUS - x * x - y * y),
    window: [64, 64],
    forceN: 148.7858,
    areaMm2: Math.PI * 28 * 28,
    levels: LEVELS,
  },
  {
    name: 'elliptic paraboloid 400 x 60',
    height: (x, y) => parabola(x, y, 400, 60),
    window: [124, 50],
    forceN: 233.6129,
    areaMm2: 3893.55,
    levels: LEVELS,
  },
  {
    name: 'cone of 10 degrees',
    height: (x, y) => Math.hypot(x, y) * TAN10,
    window: [54, 54],
    forceN: 64.66843,
    areaMm2: Math.PI * (DEPTH / TAN10) ** 2,
    levels: LEVELS,
  },
  {
    name: 'cylinder, 1 mm of it',
    height: (x) => parabola(x, 0, RADIUS, 1),
    window: [64, 1],
    forceN: 4.525483,
    areaMm2: 2 * Math.sqrt(2 * RADIUS * DEPTH),
    levels: LINE_LEVELS,
    across: 1,
  },
  {
    name: 'wedge of 10 degrees, 1 mm of it',
    height: (x) => Math.abs(x) * TAN10,
    window: [54, 1],
    forceN: 2.722215,
    areaMm2: (2 * DEPTH) / TAN10,
    levels: LINE_LEVELS,
    across: 1,
  },
];

describe('rigid indenters on a linear foundation (vertical gap, plan areas)', () => {
  for (const { name, height, window, forceN, areaMm2, levels, across } of INDENTERS) {
    const settle = (n: number) => {
      const [lengthMm, widthMm] = window;
      const body = patchBody({ lengthMm, widthMm, nx: n, ny: across ?? n, heightMm: height });
      return { body, seat: press(body, planeField(), K, [weight(forceN)]) };
    };

    it(`${name}: sinks 4 mm within 0.01 %, of order 2 or better; area within 1 %, of order about 1`, () => {
      const depth = refine(levels, (n) => -settle(n).seat.pose.zMm / DEPTH - 1);
      const area = refine(levels, (n) => {
        const { body, seat } = settle(n);
        return pressedArea(body, seat) / areaMm2 - 1;
      });
      expect(depth.finest).toBeLessThan(1e-4);
      expect(depth.order).toBeGreaterThan(1.6);
      // A round edge crosses the cells everywhere differently and averages out to 2.5; a straight one gives 2.
      expect(depth.order).toBeLessThan(2.95);
      expect(area.finest).toBeLessThan(0.01);
      // Cells are in or out: half a cell's error along the edge for strips, averaging out to order 1.3 to 1.5 round a disc.
      expect(area.order).toBeGreaterThan(0.7);
      expect(area.order).toBeLessThan(1.9);
    });

    it(`${name}: never pulls, and presses only where it touches`, () => {
      const { body, seat } = settle(levels[2]);
      for (let i = 0; i < body.count; i++) {
        expect(seat.pressureMPa[i]).toBeGreaterThanOrEqual(0);
        expect(seat.pressureMPa[i]).toBeCloseTo(Math.max(0, -K * seat.rows.distanceMm[i]), 12);
      }
    });
  }

  it('paraboloid: highest pressure k d and mean half of it, to 0.5 kPa and 0.5 %', () => {
    const body = patchBody({
      lengthMm: 64,
      widthMm: 64,
      nx: 129,
      ny: 129,
      heightMm: (x, y) => parabola(x, y, 100, 100),
    });
    const seat = press(body, planeField(), K, [weight(150.796)]);
    expect(highest(seat.pressureMPa) * 1000).toBeCloseTo(120, 0);
    expect(150.796 / pressedArea(body, seat) / highest(seat.pressureMPa)).toBeCloseTo(0.5, 2);
  });

  it('cylinder: mean pressure is two thirds of the highest, within 1 %', () => {
    const body = patchBody({ lengthMm: 64, widthMm: 1, nx: 641, ny: 1, heightMm: (x) => parabola(x, 0, 100, 1) });
    const seat = press(body, planeField(), K, [weight(4.525483)]);
    expect(4.525483 / pressedArea(body, seat) / highest(seat.pressureMPa)).toBeCloseTo(2 / 3, 2);
  });

  it('the force grows as depth^2 for a paraboloid, ^3 for a cone, ^1.5 for a cylinder (exponent within 0.01)', () => {
    const exponent = (index: number): number => {
      const { height, window, forceN, across } = INDENTERS[index];
      const n = across === undefined ? 90 : 400;
      const depthAt = (f: number): number => {
        const body = patchBody({
          lengthMm: window[0],
          widthMm: window[1],
          nx: n,
          ny: across ?? n,
          heightMm: height,
        });
        return -press(body, planeField(), K, [weight(f)]).pose.zMm;
      };
      return Math.log(2) / Math.log(depthAt(forceN) / depthAt(forceN / 2));
    };
    expect(Math.abs(exponent(0) - 2)).toBeLessThan(0.01);
    expect(Math.abs(exponent(3) - 3)).toBeLessThan(0.01);
    expect(Math.abs(exponent(4) - 1.5)).toBeLessThan(0.01);
  });
});

describe('flat patch and layers (no grid error: rounding only)', () => {
  const body = patchBody({ lengthMm: 400, widthMm: 60, nx: 40, ny: 6 });

  it('flat patch 400 x 60: F = k A d, 720 N/mm to 1e-9', () => {
    const seat = press(body, planeField(), K, [weight(1440)]);
    expect(-seat.pose.zMm).toBeCloseTo(2, 9);
  });

  it('tilt stiffness 9.6e6 N mm/rad: error (1/nx)^2 from one level to the next, order 2 within 0.05', () => {
    const exact = (0.03 * 60 * 400 ** 3) / 12;
    const study = refine([10, 20, 40, 80], (n) => {
      const fine = patchBody({ lengthMm: 400, widthMm: 60, nx: n, ny: 2 });
      const moment = 1200;
      const seat = press(fine, planeField(), K, [weight(7200, moment / 7200)], ['z', 'pitch'], { zMm: -5 });
      return moment / seat.pose.pitchRad / exact - 1;
    });
    expect(study.finest).toBeLessThan(2e-4);
    expect(study.order).toBeGreaterThan(1.95);
    expect(study.order).toBeLessThan(2.05);
  });

  it('layers in series: 1/k = h1/E1 + h2/E2, the squeezes add up, and the solver sinks by their sum', () => {
    const [e1, h1, e2, h2] = [60, 20, 150, 50];
    const stack = stackLayers([
      { name: 'tissue', thicknessMm: h2, stiffnessKPaPerMm: e2 / h2 },
      { name: 'pad', thicknessMm: h1, stiffnessKPaPerMm: e1 / h1 },
    ]);
    expect(stack.stiffness).toBeCloseTo(1 / (1000 * (h1 / e1 + h2 / e2)), 12);
    expect(stack.thicknessMm).toBe(70);
    const seat = press(body, planeField(), stack.stiffness, [weight(24_000 * 0.012)]);
    const squeezes = squeezeByLayer(stack, 12);
    expect(squeezes[0]).toBeCloseTo(4, 12);
    expect(squeezes[1]).toBeCloseTo(4, 12);
    expect(-seat.pose.zMm).toBeCloseTo(8, 8);
  });

  it('a layer without stiffness is refused', () => {
    expect(() => stackLayers([{ name: 'air', thicknessMm: 5, stiffnessKPaPerMm: 0 }])).toThrow('air');
    expect(() => stackLayers([])).toThrow('at least one');
  });
});
