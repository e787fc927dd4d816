import {
  buildBack,
  buildTree,
  type ContactFigures,
  contactFigures,
  resolvePattern,
  seatTree,
  setPatternValues,
  setupSchema,
} from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { examplePattern, symmetricBack } from '../support/examples.ts';

/**
 * Published signs for trees too narrow and too wide, applied as each bar's body moved 10 mm in or out.
 * - Narrow: the front lifts; wide: it drops. MacKechnie-Guire et al. 2019, Animals 9:842, fig 10.
 * - Narrow by 20 mm: mean pressure in the rear third 1.26 x (walk and trot). Meschan et al. 2007, Vet J 173:578-584.
 * - Wide: front mean 1.29 x at walk, 1.24 x at canter. 9th Int Conf Canine & Equine Locomotion, Utrecht 2023 (abstract).
 * With the load's place given, statics pins the centre of pressure, so the signs are looked for in pitch and in mean
 * pressure by thirds. Two load heights: 150 mm (default) and 600 mm (a rider's centre of gravity).
 */
interface Outcome {
  readonly pitchDeg: number;
  readonly contact: ContactFigures;
}

function seatMoved(pattern: string, horse: string, outEachMm: number, heightMm: number): Outcome {
  const base = examplePattern(pattern);
  const spreads = ['Front', 'Waist', 'Rear'].map((station): [string, number] => {
    const value = base.values[`spread${station}`];
    if (typeof value !== 'number') throw new Error('expected plain numbers in the demo pattern');
    return [`spread${station}`, value + 2 * outEachMm];
  });
  const tree = buildTree(resolvePattern(setPatternValues(base, spreads)));
  const seated = seatTree(tree, buildBack(symmetricBack(horse)), setupSchema.parse({ load: { heightMm } }));
  expect(seated.status).toBe('settled');
  return { pitchDeg: (seated.seat.pose.pitchRad * 180) / Math.PI, contact: contactFigures(seated) };
}

const PAIRS = [
  { pattern: 'post', horse: 'tuesday', leastFront: 1 },
  { pattern: 'wren', horse: 'dumpling', leastFront: 1 },
  // Here the wide tree's front mean stays as it was (0.999): the published sign is not in the model.
  { pattern: 'rail', horse: 'heron', leastFront: 0.99 },
] as const;

describe.each(PAIRS)('published signs for width: $pattern on $horse', ({ pattern, horse, leastFront }) => {
  it.each([150, 600])('narrow lifts the front, wide drops it; load height %i mm', (heightMm) => {
    const fit = seatMoved(pattern, horse, 0, heightMm);
    const narrow = seatMoved(pattern, horse, -10, heightMm);
    const wide = seatMoved(pattern, horse, 10, heightMm);
    expect(narrow.pitchDeg - fit.pitchDeg).toBeGreaterThan(0.3);
    expect(wide.pitchDeg - fit.pitchDeg).toBeLessThan(-0.3);
  });

  it('load height 600 mm: narrow raises the rear mean, wide the front mean, by less than was published', () => {
    const fit = seatMoved(pattern, horse, 0, 600).contact.meanByThirdKPa;
    const narrow = seatMoved(pattern, horse, -10, 600).contact.meanByThirdKPa;
    const wide = seatMoved(pattern, horse, 10, 600).contact.meanByThirdKPa;
    const rear = narrow[2]! / fit[2]!;
    const front = wide[0]! / fit[0]!;
    // The model has the sign. The size it contradicts: 1.26 was measured for the rear, 1.24-1.29 for the front.
    expect(rear).toBeGreaterThan(1.01);
    expect(rear).toBeLessThan(1.1);
    expect(front).toBeGreaterThan(leastFront);
    expect(front).toBeLessThan(1.1);
  });
});
