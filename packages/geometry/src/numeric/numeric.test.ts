import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addJet,
  applyJet,
  constantJet,
  cosJet,
  cubicSpline,
  downhillStep,
  gaussLegendre,
  InputError,
  type Jet1,
  matrixOf,
  monotoneCubic,
  multiplyJet,
  multiplyMatrices,
  rotationOf,
  scaleJet,
  seededRandom,
  showGot,
  sinJet,
  sqrtJet,
  symmetricEigen,
  symmetricEigenvalues,
  transformDirection,
  transformPoint,
} from './index.ts';

const runs = (seed: number) => ({ seed, numRuns: 200 });
const knots = fc.array(
  fc.tuple(fc.double({ min: 0.5, max: 50, noNaN: true }), fc.double({ min: -40, max: 40, noNaN: true })),
  {
    minLength: 2,
    maxLength: 8,
  },
);
const asTable = (steps: readonly (readonly [number, number])[]): { x: number[]; y: number[] } => {
  let at = 0;
  return { x: steps.map(([step]) => (at += step)), y: steps.map(([, value]) => value) };
};

describe('monotoneCubic', () => {
  it('passes through its knots, never leaves the range of the two beside it, level beyond (seed 1)', () => {
    fc.assert(
      fc.property(knots, fc.double({ min: 0, max: 1, noNaN: true }), (steps, share) => {
        const { x, y } = asTable(steps);
        const curve = monotoneCubic(x, y);
        x.forEach((at, i) => {
          expect(curve.at(at)[0]).toBeCloseTo(y[i], 9);
        });
        for (let i = 0; i + 1 < x.length; i++) {
          const [value] = curve.at(x[i] + share * (x[i + 1] - x[i]));
          expect(value).toBeGreaterThanOrEqual(Math.min(y[i], y[i + 1]) - 1e-9);
          expect(value).toBeLessThanOrEqual(Math.max(y[i], y[i + 1]) + 1e-9);
        }
        expect(curve.at(x[0] - 5)).toEqual([y[0], 0, 0]);
        expect(curve.at(x[x.length - 1] + 5)).toEqual([y[y.length - 1], 0, 0]);
      }),
      runs(1),
    );
  });

  it('joins its pieces with one slope, level at both ends (seed 2)', () => {
    fc.assert(
      fc.property(knots, (steps) => {
        const { x, y } = asTable(steps);
        const curve = monotoneCubic(x, y);
        for (const at of x) expect(Math.abs(curve.at(at - 1e-7)[1] - curve.at(at + 1e-7)[1])).toBeLessThan(1e-3);
      }),
      runs(2),
    );
  });

  it('refuses tables that do not match', () => {
    expect(() => monotoneCubic([0, 1], [1])).toThrow('as many values');
    expect(() => monotoneCubic([], [])).toThrow('at least one');
  });
});

describe('cubicSpline', () => {
  const cubic = (x: number): Jet1 => [
    2 - 0.3 * x + 0.02 * x * x - 0.001 * x ** 3,
    -0.3 + 0.04 * x - 0.003 * x * x,
    0.04 - 0.006 * x,
  ];

  it('reproduces any cubic, with its derivatives and beyond its ends (not-a-knot)', () => {
    const x = [-3, 0, 4, 5, 11, 20];
    const curve = cubicSpline(
      x,
      x.map((v) => cubic(v)[0]),
    );
    for (const at of [-8, -3, 1.7, 4, 10, 19, 26]) {
      cubic(at).forEach((value, k) => {
        expect(curve.at(at)[k]).toBeCloseTo(value, 9);
      });
    }
  });

  it('three knots give the parabola, two the line, one the constant', () => {
    expect(cubicSpline([0, 1, 3], [0, 1, 9]).at(2)).toEqual([4, 4, 2]);
    expect(cubicSpline([0, 2], [1, 5]).at(3)[0]).toBeCloseTo(7, 12);
    expect(cubicSpline([4], [2]).at(9)).toEqual([2, 0, 0]);
    expect(() => cubicSpline([0, 1], [1])).toThrow('as many values');
  });

  it('has one second derivative at its knots and order 4 towards a sine', () => {
    const errors = [8, 16, 32].map((n) => {
      const x = Array.from({ length: n + 1 }, (_, i) => (3 * i) / n);
      const curve = cubicSpline(x, x.map(Math.sin));
      expect(Math.abs(curve.at(x[3] - 1e-9)[2] - curve.at(x[3] + 1e-9)[2])).toBeLessThan(1e-6);
      return Math.max(
        ...Array.from({ length: 97 }, (_, i) => Math.abs(curve.at((3 * i) / 96)[0] - Math.sin((3 * i) / 96))),
      );
    });
    const order = Math.log2(errors[0] / errors[2]) / 2;
    expect(order).toBeGreaterThan(3.6);
    expect(order).toBeLessThan(4.8);
  });
});

describe('gaussLegendre', () => {
  it('integrates x^d over [0, 1] exactly to degree 2n - 1 and not beyond', () => {
    for (const n of [1, 2, 4, 8, 16]) {
      const { nodes, weights } = gaussLegendre(n);
      const integral = (d: number): number => nodes.reduce((sum, x, i) => sum + weights[i] * x ** d, 0);
      for (let d = 0; d < 2 * n; d++) expect(Math.abs(integral(d) - 1 / (d + 1))).toBeLessThan(1e-14);
      if (n < 8) expect(Math.abs(integral(2 * n) - 1 / (2 * n + 1))).toBeGreaterThan(1e-9);
    }
  });
});

describe('jets', () => {
  const x0 = 0.7;
  const x: Jet1 = [x0, 1, 0];
  const both = (jet: Jet1, f: (v: number) => number): void => {
    const h = 1e-4;
    expect(jet[0]).toBeCloseTo(f(x0), 12);
    expect(jet[1]).toBeCloseTo((f(x0 + h) - f(x0 - h)) / (2 * h), 6);
    expect(jet[2]).toBeCloseTo((f(x0 + h) - 2 * f(x0) + f(x0 - h)) / (h * h), 5);
  };
  it('sum, product, chain, sine, cosine and root agree with differences', () => {
    const inner = addJet(multiplyJet(x, x), scaleJet(x, 0.5));
    both(inner, (v) => v * v + v / 2);
    both(sinJet(inner), (v) => Math.sin(v * v + v / 2));
    both(cosJet(inner), (v) => Math.cos(v * v + v / 2));
    both(sqrtJet(addJet(inner, constantJet(1))), (v) => Math.sqrt(v * v + v / 2 + 1));
    both(applyJet(inner, Math.exp(inner[0]), Math.exp(inner[0]), Math.exp(inner[0])), (v) => Math.exp(v * v + v / 2));
  });
});

describe('symmetric matrices', () => {
  const matrix = (random: () => number, n: number): number[] => {
    const m = new Array<number>(n * n).fill(0);
    for (let i = 0; i < n; i++) for (let j = 0; j <= i; j++) m[i * n + j] = m[j * n + i] = random() * 2 - 1;
    return m;
  };

  it('A v = value v with unit vectors, values rising, trace kept (seed 3)', () => {
    const random = seededRandom(3);
    for (let round = 0; round < 50; round++) {
      const n = 2 + (round % 5);
      const a = matrix(random, n);
      const { values, vectors } = symmetricEigen(a, n);
      values.forEach((value, k) => {
        if (k > 0) expect(value).toBeGreaterThanOrEqual(values[k - 1]);
        expect(Math.hypot(...vectors[k])).toBeCloseTo(1, 12);
        for (let i = 0; i < n; i++) {
          const av = vectors[k].reduce((sum, v, j) => sum + a[i * n + j] * v, 0);
          expect(av).toBeCloseTo(value * vectors[k][i], 11);
        }
      });
      const trace = Array.from({ length: n }, (_, i) => a[i * n + i]).reduce((p, q) => p + q, 0);
      expect(values.reduce((p, q) => p + q, 0)).toBeCloseTo(trace, 11);
    }
    expect(symmetricEigenvalues([2, 0, 0, -3], 2)).toEqual([-3, 2]);
  });

  it('downhillStep solves H s = -g where H is positive definite, and goes downhill where it is not (seed 4)', () => {
    const random = seededRandom(4);
    for (let round = 0; round < 50; round++) {
      const a = matrix(random, 4);
      const g = Array.from({ length: 4 }, () => random() - 0.5);
      const step = downhillStep(a, g, 4, 1e-6);
      expect(step.reduce((sum, s, i) => sum + s * g[i], 0)).toBeLessThan(0);
      const spd = a.map((_, at) => {
        const [i, j] = [at >> 2, at & 3];
        return [0, 1, 2, 3].reduce((sum, k) => sum + a[i * 4 + k] * a[j * 4 + k], i === j ? 0.5 : 0);
      });
      const s = downhillStep(spd, g, 4, 1e-9);
      for (let i = 0; i < 4; i++) expect(s.reduce((sum, v, j) => sum + spd[i * 4 + j] * v, g[i])).toBeCloseTo(0, 10);
    }
  });
});

describe('rigid motion (DESIGN 1)', () => {
  const tiny = 0.1;
  it('+pitch lifts the front, +roll lifts the right side, +yaw swings the tail to the right', () => {
    const at = (angles: Parameters<typeof rotationOf>[0], p: readonly [number, number, number]) =>
      transformPoint(matrixOf(rotationOf(angles), [0, 0, 0]), ...p);
    const none = { rollRad: 0, pitchRad: 0, yawRad: 0 };
    expect(at({ ...none, pitchRad: tiny }, [-100, 0, 0])[2]).toBeCloseTo(100 * Math.sin(tiny), 12);
    expect(at({ ...none, rollRad: tiny }, [0, 100, 0])[2]).toBeCloseTo(100 * Math.sin(tiny), 12);
    expect(at({ ...none, yawRad: tiny }, [100, 0, 0])[1]).toBeCloseTo(100 * Math.sin(tiny), 12);
  });

  it('R = Rz(yaw) Ry(pitch) Rx(roll): the product of the three, orthonormal, of determinant 1 (seed 5)', () => {
    const random = seededRandom(5);
    for (let round = 0; round < 50; round++) {
      const [rollRad, pitchRad, yawRad] = [random() - 0.5, random() - 0.5, random() - 0.5];
      const one = (angles: Partial<Parameters<typeof rotationOf>[0]>): number[] =>
        matrixOf(rotationOf({ rollRad: 0, pitchRad: 0, yawRad: 0, ...angles }), [0, 0, 0]);
      const product = multiplyMatrices(one({ yawRad }), multiplyMatrices(one({ pitchRad }), one({ rollRad })));
      const whole = matrixOf(rotationOf({ rollRad, pitchRad, yawRad }), [3, -2, 7]);
      for (const i of [0, 1, 2, 4, 5, 6, 8, 9, 10]) expect(whole[i]).toBeCloseTo(product[i], 14);
      const [x, y, z] = [
        transformDirection(whole, 1, 0, 0),
        transformDirection(whole, 0, 1, 0),
        transformDirection(whole, 0, 0, 1),
      ];
      expect(Math.hypot(...x)).toBeCloseTo(1, 14);
      expect(x[0] * y[0] + x[1] * y[1] + x[2] * y[2]).toBeCloseTo(0, 14);
      expect(x[1] * y[2] - x[2] * y[1]).toBeCloseTo(z[0], 14);
      expect(transformPoint(whole, 0, 0, 0)).toEqual([3, -2, 7]);
    }
  });
});

describe('seededRandom', () => {
  it('repeats with its seed, differs between seeds, and spreads evenly over [0, 1) (seed 6)', () => {
    const [a, b, c] = [seededRandom(6), seededRandom(6), seededRandom(7)];
    const first = Array.from({ length: 1000 }, a);
    expect(Array.from({ length: 1000 }, b)).toEqual(first);
    expect(Array.from({ length: 1000 }, c)).not.toEqual(first);
    expect(Math.min(...first)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...first)).toBeLessThan(1);
    expect(first.reduce((p, q) => p + q, 0) / 1000).toBeCloseTo(0.5, 1);
  });
});

describe('InputError', () => {
  it('says where, what was expected, what was found and what to do', () => {
    const error = new InputError({
      code: 'out-of-range',
      field: 'rockRadius',
      got: '12 mm',
      expected: 'more than 300 mm',
      remedy: 'Take a larger radius.',
    }).inFile('post.pattern.json');
    expect(error.message).toBe(
      'post.pattern.json: rockRadius: expected more than 300 mm (got 12 mm). Take a larger radius.',
    );
    expect(error.code).toBe('out-of-range');
    expect(error.details.file).toBe('post.pattern.json');
  });

  it('shortens what was found to 60 characters and shows control characters', () => {
    expect(showGot('x'.repeat(500)).length).toBe(60);
    expect(showGot('a\u0007b')).toBe('"a\\u0007b"');
    expect(showGot(12.5)).toBe('12.5');
  });
});
