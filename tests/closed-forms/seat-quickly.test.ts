import {
  buildBack,
  buildTree,
  readSetup,
  resolvePattern,
  type SeatedTree,
  seatTree,
  type Tree,
} from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import { exampleBack, examplePattern } from '../support/examples.ts';

const treeOf = (stem: string): Tree => buildTree(resolvePattern(examplePattern(stem)));
const backOf = (stem: string) => buildBack(exampleBack(stem));

/** Furthest that a cell of the bars moved by bending, mm. */
function mostMoveMm({ flex }: SeatedTree): number {
  const moved = flex!.seat.movedMm;
  let most = 0;
  for (let i = 0; i < moved.length; i += 3) most = Math.max(most, Math.hypot(moved[i]!, moved[i + 1]!, moved[i + 2]!));
  return most;
}

const contactCm2 = ({ samples, seat }: SeatedTree): number =>
  samples.areaMm2.reduce((sum, area, i) => sum + (seat.pressureMPa[i]! > 0 ? area / 100 : 0), 0);

describe('a quick seating of bars that bend, beside the one that results are read from', () => {
  test.each([
    ['post-layered', 'dumpling', 'none'],
    ['post-layered', 'heron', 'moulded'],
    ['post', 'heron', 'leather'],
    ['rail', 'dumpling', 'leather'],
  ] as const)(
    '%s on %s, ground seat %s: height within 0.05 mm, area to a hundredth, give to six',
    (tree, back, groundSeat) => {
      const setup = readSetup({ schema: 'barwright/setup/1', name: 'give', flex: { bars: 'flexible', groundSeat } });
      const fine = seatTree(treeOf(tree), backOf(back), setup);
      const quick = seatTree(treeOf(tree), backOf(back), setup, { quick: true });
      expect(quick.status).toBe('settled');
      expect(quick.seat.relativeResidual).toBeLessThan(1e-4);
      expect(quick.samples.count).toBeLessThan(fine.samples.count / 2);
      expect(Math.abs(quick.seat.pose.zMm - fine.seat.pose.zMm)).toBeLessThan(0.05);
      expect(Math.abs(contactCm2(quick) / contactCm2(fine) - 1)).toBeLessThan(0.01);
      expect(Math.abs(mostMoveMm(quick) / mostMoveMm(fine) - 1)).toBeLessThan(0.06);
    },
  );

  test('rigid bars are seated as always', () => {
    const setup = readSetup({ schema: 'barwright/setup/1', name: 'rigid' });
    const [always, quick] = [{}, { quick: true }].map((how) => seatTree(treeOf('post'), backOf('heron'), setup, how));
    expect(quick!.seat.pose).toEqual(always!.seat.pose);
  });
});
