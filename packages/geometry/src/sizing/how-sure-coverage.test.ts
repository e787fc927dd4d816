import { expect, test } from 'vitest';
import { type BackSurface, buildSectionsBack, sumOfLifts } from '../back/index.ts';
import { demoDocument, demoPatternTree } from '../findings/scenario.fixture.ts';
import { seededRandom } from '../numeric/index.ts';
import { SETUP_DEFAULTS } from '../seating/index.ts';
import { howSure } from './how-sure.ts';
import { BAND_FIGURE_NAMES, BAND_FIGURES } from './how-sure-figures.ts';
import { drawError } from './measuring-error.ts';
import { readAgainst } from './tree-against-read.ts';

/** 500 where there is time; a share of 200 is known to 1.5 in 100 (a binomial's standard deviation at 95). */
const HORSES = process.env.BARWRIGHT_LONG === undefined ? 200 : 500;
/** Horses differ this many times as much as one measuring of one horse may be off. */
const SPREAD = 5;

/** Of 39 draws the least and the most are the ends of a 95 % band. */
const DRAWS = 39;

test(`the truth lies within the band in 90 to 98 of 100 of ${HORSES} horses, every figure (seed 7)`, {
  timeout: 600_000,
}, () => {
  const tree = demoPatternTree('post');
  const back = buildSectionsBack(demoDocument('tuesday'));
  const { uncertaintyMm, uncertaintyDeg } = back.measured;
  const kinds = {
    ...back.measured,
    uncertaintyMm: SPREAD * uncertaintyMm,
    uncertaintyDeg: SPREAD * uncertaintyDeg,
  };
  const manyHorses = Object.create(back, { measured: { value: kinds } }) as BackSurface;
  const setup = { ...SETUP_DEFAULTS, samples: 130 };
  const random = seededRandom(7);
  const hits = new Map<string, number>(BAND_FIGURE_NAMES.map((name) => [name, 0]));
  for (let h = 0; h < HORSES; h++) {
    const horse = drawError(manyHorses, random).lift;
    const measured = sumOfLifts([horse, drawError(back, random).lift]);
    const set = setup.setPositionMm + setup.rules.setPositionBandMm * (2 * random() - 1);
    const truth = readAgainst(tree, horse, back, { ...setup, setPositionMm: set }, null);
    const run = howSure(tree, back, setup, { draws: DRAWS, samples: 130, seed: h + 1, measuredLift: measured });
    let step = run.next();
    while (!step.done) step = run.next();
    for (const name of BAND_FIGURE_NAMES) {
      const band = step.value.bands[name]!;
      const value = BAND_FIGURES[name](truth)!;
      if (value >= band.low && value <= band.high) hits.set(name, hits.get(name)! + 1);
    }
  }
  const shares = Object.fromEntries([...hits].map(([name, count]) => [name, (100 * count) / HORSES]));
  for (const [name, share] of Object.entries(shares)) {
    expect(share, name).toBeGreaterThanOrEqual(90);
    expect(share, name).toBeLessThanOrEqual(98);
  }
});
