import { SETUP_DEFAULTS } from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import { demoBack, FIRST_DOCUMENTS } from '../files/demos.ts';
import { createEngine } from './engine.ts';

const { pattern } = FIRST_DOCUMENTS;
const LAYERS = [
  SETUP_DEFAULTS.layers,
  [
    { name: 'tissue', thicknessMm: 0, stiffnessKPaPerMm: 3 },
    { name: 'pad', thicknessMm: 20, material: 'closed-cell foam' },
    {
      name: 'skirt',
      thicknessMm: 4,
      curve: [
        [10, 4],
        [40, 60],
      ],
    },
  ],
] as const;

describe('squeezes of the layers', () => {
  // Springs in series, VALIDATION A1: one pressure, squeezes that add up. The stack's own law is a cubic between 400
  // knots where a layer is not linear: a hundredth of a millimetre is far more than it may be off.
  for (const layers of LAYERS)
    test(`of ${layers.map(({ name }) => name).join(', ')} add up to the stack's at every cell`, () => {
      const setup = { ...SETUP_DEFAULTS, samples: 2000, layers: layers as unknown as typeof SETUP_DEFAULTS.layers };
      const fit = createEngine().figures({ version: 1, pattern, setup, backId: 1, back: demoBack('dumpling')! });
      let pressed = 0;
      for (const bars of [fit.bars, fit.laidOnBars])
        for (const bar of [bars.left, bars.right])
          bar.gapMm.forEach((gap, k) => {
            const sum = bar.layers.reduce((mm, { squeezeMm }) => mm + squeezeMm[k]!, 0);
            if (gap < 0) pressed++;
            expect(Math.abs(sum - Math.max(0, -gap)), `cell ${k}, gap ${gap}`).toBeLessThan(0.01);
          });
      expect(pressed).toBeGreaterThan(100);
      expect(fit.bars.left.layers.map(({ name }) => name)).toEqual(layers.map(({ name }) => name));
      const deepest = fit.bars.right.pressureKPa.indexOf(Math.max(...fit.bars.right.pressureKPa));
      for (const { squeezeMm } of fit.bars.right.layers) expect(squeezeMm[deepest]).toBeGreaterThan(0);
    });
});

test('the feet lie on the back and their normals point away from the horse: a cell is its gap and the layers away along them', () => {
  const setup = { ...SETUP_DEFAULTS, samples: 2000 };
  const fit = createEngine().figures({ version: 1, pattern, setup, backId: 1, back: demoBack('dumpling')! });
  const { positions, feet, backNormals, gapMm } = fit.bars.right;
  gapMm.forEach((gap, k) => {
    let along = 0;
    for (let c = 3 * k; c < 3 * k + 3; c++) along += (positions[c]! - feet[c]!) * backNormals[c]!;
    expect(Math.abs(along - gap - fit.layersMm)).toBeLessThan(0.01);
  });
});
