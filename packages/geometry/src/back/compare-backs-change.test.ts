import { describe, expect, it } from 'vitest';
import type { BackSurface } from './back-surface.ts';
import { buildSectionsBack } from './build-sections-back.ts';
import { changeOfBack } from './compare-backs-change.ts';
import { demoBack } from './demo-backs.fixture.ts';
import type { SectionsBackDocument } from './sections-schema.ts';

type Part = Partial<SectionsBackDocument>;
const careful = { by: 'Quillback Lane bench (invented)', on: '2026-06-02', uncertaintyMm: 1.5, uncertaintyDeg: 0.7 };
const made = (part: Part = {}): { back: BackSurface; facts: Part } => {
  const document = { ...demoBack('tuesday'), measured: careful, ...part };
  return { back: buildSectionsBack(document), facts: document };
};
const left = { slopeDeg: 0, liftMm: 7, fromMm: 0, toMm: 220, rampMm: 80 };
const muscle = { ...demoBack('tuesday').asymmetry, left };
const dent = { centreXMm: 400, centreYMm: 120, radiusXMm: 110, radiusYMm: 80, depthMm: 9 };
const hollow = { ...demoBack('tuesday').hollow, right: dent };

describe('changeOfBack', () => {
  it('a muscle on one side and a dent on the other pull neither the rest of the back nor each other', () => {
    const after = made({ asymmetry: muscle, hollow });
    const { regions, bestFit, doubts } = changeOfBack(made(), after);
    const reading = Object.fromEntries(regions.map((r) => [`${r.side} ${r.third}`, r.reading]));
    expect(reading).toEqual({
      'left front': 'fuller',
      'left middle': 'changed in part',
      'left rear': 'within measuring error',
      'right front': 'within measuring error',
      'right middle': 'within measuring error',
      'right rear': 'changed in part',
    });
    expect(doubts).toEqual([]);
    // The slide along the back that hid the change before: the untouched parts agree without it.
    expect(Math.abs(bestFit.motion.backwardMm)).toBeLessThan(0.5);
    expect(bestFit.motion.residualMm).toBeLessThan(0.1);
    expect(regions[0]!.fromXMm).toBe(0);
    expect(regions[2]!.toXMm).toBeCloseTo(500, 9);
  });

  it('what only one way of laying together shows is not called a change', () => {
    const raised = made();
    const lifted = Object.create(raised.back, {
      heightMm: { value: (x: number, y: number) => raised.back.heightMm(x, y) + 4 },
    }) as BackSurface;
    const { regions } = changeOfBack(made(), { back: lifted, facts: raised.facts });
    for (const { landmarksMm, bestFitMm, limitMm, reading } of regions) {
      expect(landmarksMm).toBeGreaterThan(limitMm);
      expect(Math.abs(bestFitMm)).toBeLessThan(0.1);
      expect(reading).toBe('depends on how they are laid together');
    }
  });

  it('doubts two horses by bones, names and shape, and not one horse by its work', () => {
    const heron = { back: buildSectionsBack(demoBack('heron')), facts: demoBack('heron') };
    const { doubts } = changeOfBack(made(), heron);
    expect(doubts.join(' ')).toMatch(/Withers height is 1520 mm and 1630 mm/);
    expect(doubts.join(' ')).toMatch(/came to rest at its bound|Even the half that agrees best/);
    const named = (horse: string): Part => ({ record: { horse, surface: 'bare', how: 'ruler' } });
    expect(changeOfBack(made(named('Tuesday')), made(named(' tuesday '))).doubts).toEqual([]);
    expect(changeOfBack(made(named('Tuesday')), made(named('Heron'))).doubts).toEqual([
      'The records name Tuesday and Heron.',
    ]);
    const dumpling = { back: buildSectionsBack(demoBack('dumpling')), facts: {} };
    expect(changeOfBack({ ...made(), facts: {} }, dumpling).doubts.join(' ')).toMatch(
      /Blade edge to last rib is 500 mm and 430 mm/,
    );
  });

  it('two backs without data in common are doubted, and their regions say so', () => {
    const { back, facts } = made();
    const empty = Object.create(back, { heightMm: { value: () => Number.NaN } }) as BackSurface;
    const { regions, doubts } = changeOfBack(made(), { back: empty, facts });
    expect(doubts).toEqual(['The two have no data in common.']);
    expect(regions.map(({ reading }) => reading)).toEqual(Array(6).fill('no data'));
  });
});
