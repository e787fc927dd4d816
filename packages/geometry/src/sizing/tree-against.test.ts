import { describe, expect, test } from 'vitest';
import { createSurfaceJet, type Lift } from '../back/index.ts';
import { demoPatternTree, evenBack } from '../findings/scenario.fixture.ts';
import { seededRandom } from '../numeric/index.ts';
import { SETUP_DEFAULTS } from '../seating/index.ts';
import { BAND_FIGURE_NAMES, BAND_FIGURES, type BandFigure } from './how-sure-figures.ts';
import { drawError } from './measuring-error.ts';
import { liftOfStep } from './reach-lift.ts';
import { readAgainst } from './tree-against-read.ts';

const tree = demoPatternTree('post');
const back = evenBack('tuesday');
const setup = { ...SETUP_DEFAULTS, samples: 1500 };
const chord = { middleXMm: 255, halfMm: 210 };

function figuresOf(on: typeof back, lift: Lift | null): Record<BandFigure, number> {
  const reading = readAgainst(tree, lift, on, setup, null);
  return Object.fromEntries(BAND_FIGURE_NAMES.map((name) => [name, BAND_FIGURES[name](reading)])) as never;
}

const LIFTS: Readonly<Record<string, Lift>> = {
  'steeper by 1 degree': liftOfStep(back, { slopeDeg: 1, sagMm: 0 }, chord),
  'flatter by 1 degree': liftOfStep(back, { slopeDeg: -1, sagMm: 0 }, chord),
  'sag 4 mm more': liftOfStep(back, { slopeDeg: 0, sagMm: 4 }, chord),
  'sag 4 mm less': liftOfStep(back, { slopeDeg: 0, sagMm: -4 }, chord),
  'an error of measuring, seed 11': drawError(back, seededRandom(11)).lift,
  'an error of measuring, seed 12': drawError(back, seededRandom(12)).lift,
};

/** How far the two may lie apart: a tenth of the effect and this, which stands for the normals' turn. */
const SPARE: Readonly<Record<BandFigure, number>> = {
  meanPressureKPa: 0.05,
  p95PressureKPa: 0.1,
  peakPressureKPa: 0.5,
  areaCm2: 25,
  shareFront: 0.003,
  shareMiddle: 0.003,
  pitchDeg: 0.06,
  rollDeg: 0.01,
  lengthwiseLeftMm: 0.03,
  lengthwiseRightMm: 0.03,
  slopeFrontDeg: 0.03,
  slopeRearDeg: 0.05,
  tipGapMm: 0.4,
  spineAtForkMm: 0.1,
};

describe('a tree against a lift, beside the same lift put on the back', () => {
  const base = figuresOf(back, null);
  test.each(Object.entries(LIFTS))('%s: every figure moves alike', (_name, lift) => {
    const real = figuresOf(back.lifted(lift), null);
    const met = figuresOf(back, lift);
    for (const name of BAND_FIGURE_NAMES) {
      const effect = real[name] - base[name];
      expect(Math.abs(met[name] - real[name]), name).toBeLessThan(Math.abs(effect) / 10 + SPARE[name]);
    }
  });

  test('without a lift it is the very tree', () => {
    expect(figuresOf(back, liftOfStep(back, { slopeDeg: 0, sagMm: 0 }, chord))).toEqual(base);
  });
});

describe('derivatives of lifts, by differences of their heights', () => {
  test.each(Object.entries(LIFTS))('%s', (_name, { jet, at }) => {
    const e = 1e-3;
    const [here, ahead, right] = [createSurfaceJet(), createSurfaceJet(), createSurfaceJet()];
    for (const [x, y] of [
      [-80, -70],
      [40, 95],
      [130, -120],
      [333, 160],
      [520, -200],
      [800, 60],
    ] as const) {
      jet(x, y, here);
      expect(here.z).toBe(at(x, y));
      expect(here.zx).toBeCloseTo((at(x + e, y) - at(x - e, y)) / (2 * e), 6);
      expect(here.zy).toBeCloseTo((at(x, y + e) - at(x, y - e)) / (2 * e), 6);
      jet(x + e, y, ahead);
      jet(x, y + e, right);
      const [aheadZx, rightZy, rightZx] = [ahead.zx, right.zy, right.zx];
      jet(x - e, y, ahead);
      jet(x, y - e, right);
      expect(here.zxx).toBeCloseTo((aheadZx - ahead.zx) / (2 * e), 5);
      expect(here.zyy).toBeCloseTo((rightZy - right.zy) / (2 * e), 5);
      expect(here.zxy).toBeCloseTo((rightZx - right.zx) / (2 * e), 5);
    }
  });
});
