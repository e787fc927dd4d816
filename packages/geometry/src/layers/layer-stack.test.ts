import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Layer } from './layer.ts';
import { squeezeBetween, squeezeByLayer, stackLayers } from './layer-stack.ts';
import { SOFT_MATERIALS } from './soft-materials.ts';
import { knotLaw } from './squeeze-law.ts';

const TISSUE: Layer = { name: 'tissue', thicknessMm: 0, stiffnessKPaPerMm: 3 };
const foam = (thicknessMm = 20): Layer => ({ name: 'pad', thicknessMm, material: 'closed-cell foam' });
const KPA = [0.01, 0.2, 1, 3, 7.5, 15, 30, 60, 120, 250, 500, 950];

/** Straight from the formula, kPa. */
const foamKPa = (e: number): number => 5.4 * (1 - Math.exp(-e / 0.02)) + (101.3 * e) / (1 - e - 33 / 920);

const layerOf = fc.oneof(
  fc.record({
    name: fc.constant('a'),
    thicknessMm: fc.double({ min: 0, max: 30, noNaN: true }),
    stiffnessKPaPerMm: fc.double({ min: 0.3, max: 50, noNaN: true }),
  }),
  fc.record({
    name: fc.constant('b'),
    thicknessMm: fc.double({ min: 1, max: 40, noNaN: true }),
    material: fc.constantFrom(...SOFT_MATERIALS.map((m) => m.name)),
  }),
  fc.record({
    name: fc.constant('c'),
    thicknessMm: fc.double({ min: 1, max: 40, noNaN: true }),
    curve: fc
      .array(fc.tuple(fc.double({ min: 1, max: 20, noNaN: true }), fc.double({ min: 0.5, max: 80, noNaN: true })), {
        minLength: 1,
        maxLength: 5,
      })
      .map((steps) => {
        let [percent, kPa] = [0, 0];
        return steps.map(([dx, dy]) => {
          percent += dx * 0.9;
          kPa += dy;
          return [percent, kPa] as const;
        });
      }),
  }),
);
const stackInputs = fc.tuple(
  fc.array(layerOf, { minLength: 1, maxLength: 4 }),
  fc.double({ min: -20, max: 60, noNaN: true }),
  fc.double({ min: 0, max: 2000, noNaN: true }),
);

describe('linear layers', () => {
  it('in series: 1/k = sum 1/k_i, thicknesses add, the law is that one stiffness to the bit', () => {
    const stack = stackLayers([TISSUE, { name: 'pad', thicknessMm: 20, stiffnessKPaPerMm: 2.5 }]);
    expect(stack.stiffness).toBe(1 / (1 / (3 * 1e-3) + 1 / (2.5 * 1e-3)));
    expect(stack.law.linear).toBe(stack.stiffness);
    expect(stack.thicknessMm).toBe(20);
    expect(stack.law.pressure(7.3)).toBe(stack.stiffness * 7.3);
    expect(squeezeByLayer(stack, 12)).toEqual([12 / 3, 12 / 2.5]);
    expect(squeezeBetween(stack, 5, 12)).toBe((12 - 5) / (1000 * stack.stiffness));
  });

  it('a curve of one point, or of two on a line, is a linear layer (1e-12 of the pressure)', () => {
    const linear = stackLayers([TISSUE, { name: 'pad', thicknessMm: 20, stiffnessKPaPerMm: 2.5 }]);
    for (const curve of [
      [[40, 20]],
      [
        [0, 0],
        [50, 25],
      ],
      [
        [10, 5],
        [60, 30],
      ],
    ] as const) {
      const { law, stiffness } = stackLayers([TISSUE, { name: 'pad', thicknessMm: 20, curve }]);
      expect(Math.abs(stiffness / linear.stiffness - 1)).toBeLessThan(1e-12);
      for (const c of [0.01, 1, 5, 12, 40]) {
        expect(Math.abs(law.pressure(c) / linear.law.pressure(c) - 1)).toBeLessThan(1e-12);
        expect(Math.abs(law.energy(c) / linear.law.energy(c) - 1)).toBeLessThan(1e-12);
        expect(Math.abs(law.tangent(c) / linear.stiffness - 1)).toBeLessThan(1e-12);
      }
    }
  });
});

describe('foam', () => {
  it('gives the pressure of the formula at any squeeze, within 1e-5 of it', () => {
    const { law } = stackLayers([foam(20)]);
    let worst = 0;
    for (let e = 0.0005; foamKPa(e) < 990; e += 0.0007) {
      worst = Math.max(worst, Math.abs((1000 * law.pressure(20 * e)) / foamKPa(e) - 1));
    }
    expect(worst).toBeLessThan(1e-5);
  });

  it('meets the 33 kg/m3 rows of VALIDATION B (40, 75, 115, 175 kPa at 25, 40, 50, 60 %) within 2.7 kPa', () => {
    const { law } = stackLayers([foam(30)]);
    for (const [e, kPa] of [
      [0.25, 40],
      [0.4, 75],
      [0.5, 115],
      [0.6, 175],
    ] as const) {
      expect(Math.abs(1000 * law.pressure(30 * e) - kPa)).toBeLessThan(2.7);
    }
  });

  it('every soft material lies within its own span at 25 %, starts at nothing with a finite slope', () => {
    for (const { name, rangeAt25KPa } of SOFT_MATERIALS) {
      const { law, stiffness } = stackLayers([{ name: 'pad', thicknessMm: 20, material: name }]);
      const kPa = 1000 * law.pressure(5);
      expect(kPa, name).toBeGreaterThanOrEqual(rangeAt25KPa[0]);
      expect(kPa, name).toBeLessThanOrEqual(rangeAt25KPa[1]);
      expect(law.pressure(0)).toBe(0);
      expect(law.pressure(-3)).toBe(0);
      expect(law.tangent(1e-9) / stiffness, name).toBeCloseTo(1, 6);
      expect(Number.isFinite(stiffness)).toBe(true);
    }
  });

  it('goes on straight beyond its last knot, and stays finite at any squeeze', () => {
    const { law } = stackLayers([TISSUE, foam(8)]);
    const end = law.squeeze(1);
    for (const c of [end + 1, end + 100, 1e6]) {
      expect(law.tangent(c)).toBe(law.tangent(end + 1));
      expect(law.squeeze(law.pressure(c)) / c).toBeCloseTo(1, 12);
      expect(Number.isFinite(law.energy(c))).toBe(true);
    }
  });

  it('is softer when warm, thinner when long under load', () => {
    const [cold, usual, warm] = [5, 23, 40].map((temperatureC) => stackLayers([foam()], { temperatureC }));
    expect(cold!.law.pressure(4)).toBeGreaterThan(usual!.law.pressure(4));
    expect(usual!.law.pressure(4)).toBeGreaterThan(warm!.law.pressure(4));
    const rested = stackLayers([foam()], { hours: 100 });
    expect(rested.thicknessMm).toBeCloseTo(20 * (1 - 0.09), 12);
    expect(1000 * rested.law.pressure(0.25 * rested.thicknessMm)).toBeCloseTo(1000 * usual!.law.pressure(5), 3);
  });

  it('says where temperature or time lie beyond the tables', () => {
    const beyond = (temperatureC: number, hours: number): boolean =>
      stackLayers([foam()], { temperatureC, hours }).parts[0]!.beyondTable;
    expect([beyond(23, 0), beyond(70, 0), beyond(23, 5000)]).toEqual([false, true, true]);
  });
});

describe('any stack', () => {
  it('squeezes of the layers add up to the stack, each meets the pressure (within 1e-6 of the squeeze)', () => {
    const layers = [
      TISSUE,
      foam(12),
      { name: 'skirt', thicknessMm: 15, material: 'wool fleece' },
      { name: 'felt', thicknessMm: 6, material: 'soft wool felt' },
    ];
    const stack = stackLayers(layers, { temperatureC: 33, hours: 4 });
    for (const kPa of KPA) {
      const sum = squeezeByLayer(stack, kPa).reduce((a, b) => a + b, 0);
      expect(Math.abs(stack.law.squeeze(kPa / 1000) / sum - 1)).toBeLessThan(1e-6);
      expect(Math.abs((1000 * stack.law.pressure(sum)) / kPa - 1)).toBeLessThan(1e-4);
    }
  });

  it('between knots the law stays within 1e-4 of the exact series law (seed 20261125, 60 stacks)', () => {
    let worst = 0;
    fc.assert(
      fc.property(
        stackInputs,
        fc.double({ min: 0.05, max: 900, noNaN: true }),
        ([layers, temperatureC, hours], kPa) => {
          const stack = stackLayers(layers, { temperatureC, hours });
          const exact = squeezeByLayer(stack, kPa).reduce((a, b) => a + b, 0);
          worst = Math.max(worst, Math.abs((1000 * stack.law.pressure(exact)) / kPa - 1));
        },
      ),
      { seed: 20261125, numRuns: 60 },
    );
    expect(worst).toBeLessThan(1e-4);
  });

  it('is convex and its own derivative: energy, pressure and tangent agree (seed 20261126, 60 stacks)', () => {
    fc.assert(
      fc.property(
        stackInputs,
        fc.double({ min: 0.001, max: 0.95, noNaN: true }),
        ([layers, temperatureC, hours], share) => {
          const { law, thicknessMm } = stackLayers(layers, { temperatureC, hours });
          const c = share * (thicknessMm + 5);
          const h = 1e-5 * c;
          const p = law.pressure(c);
          expect(law.tangent(c)).toBeGreaterThan(0);
          expect(law.pressure(c + h)).toBeGreaterThan(p);
          expect(Math.abs((law.energy(c + h) - law.energy(c - h)) / (2 * h) - p)).toBeLessThan(1e-6 * p);
          const steep = Math.max(law.tangent(c - h), law.tangent(c), law.tangent(c + h));
          expect(Math.abs((law.pressure(c + h) - law.pressure(c - h)) / (2 * h) - law.tangent(c))).toBeLessThan(
            1e-3 * steep,
          );
          expect(law.energy(c)).toBeLessThan(0.5 * (law.energy(0.5 * c) + law.energy(1.5 * c)));
        },
      ),
      { seed: 20261126, numRuns: 60 },
    );
  });

  it('one pass over many cells gives the same numbers as asking one by one', () => {
    const { law } = stackLayers([TISSUE, foam(20)]);
    const squeeze = Float64Array.from({ length: 400 }, (_, i) => -2 + 0.06 * i);
    const [pressure, tangent, energy] = [0, 0, 0].map(() => new Float64Array(400));
    law.fill(squeeze, pressure!, tangent!, energy!);
    squeeze.forEach((c, i) => {
      expect([pressure![i], tangent![i], energy![i]]).toEqual([law.pressure(c), law.tangent(c), law.energy(c)]);
    });
  });
});

describe('refusals', () => {
  it('no layer, no stiffness, a law that does not rise', () => {
    expect(() => stackLayers([])).toThrow(RangeError);
    expect(() => stackLayers([{ name: 'x', thicknessMm: 1, stiffnessKPaPerMm: 0 }])).toThrow(RangeError);
    const knot = (squeezeMm: number, pressureMPa: number) => ({ squeezeMm, pressureMPa, slope: 1 });
    expect(() => knotLaw([knot(0, 0), knot(1, 1), knot(2, 1)])).toThrow(RangeError);
    expect(() => knotLaw([knot(1, 0), knot(2, 1)])).toThrow(RangeError);
  });
});
