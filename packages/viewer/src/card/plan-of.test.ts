import { readPattern, type Setup } from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { demoPattern } from '../files/demos.ts';
import { describePattern } from '../state/editor.ts';
import { alongBar, fixedToOther, planOf } from './plan-of.ts';

const shim: Setup['shims'][number] = {
  ...{ name: 'wedge', fixedTo: 'bar', side: 'both', fromMm: 200, toMm: 340 },
  ...{ innerMm: 60, outerMm: 140, thicknessMm: 4, rampMm: 20 },
};

describe('the plan that shims are drawn on', () => {
  const post = readPattern(demoPattern('post'));
  const plan = planOf(describePattern(post), post.stations)!;

  it('has the spread at the waist, the chord laid flat beyond it, and the same bars left and right', () => {
    expect(plan.lengthMm).toBe(560);
    const atWaist = plan.outline.right.filter(([b]) => b === 280).map(([, out]) => out);
    expect(atWaist[0]).toBeCloseTo(57, 9);
    expect(atWaist[1]).toBeCloseTo(57 + 95 * Math.cos((34 * Math.PI) / 180), 9);
    expect(plan.outline.left).toEqual(plan.outline.right);
    const ends = plan.outline.right.map(([b]) => b);
    expect([Math.min(...ends), Math.max(...ends)]).toEqual([0, 560]);
  });

  it('a left value moves the left outline alone', () => {
    const own = readPattern({ ...post, leftValues: { spreadWaist: 130 } });
    const { outline } = planOf(describePattern(own), own.stations)!;
    expect(outline.right).toEqual(plan.outline.right);
    expect(outline.left).not.toEqual(plan.outline.left);
  });

  it('a piece changed from bar to horse stays where it is, and comes back', () => {
    const horse = fixedToOther(shim, 'horse', -30);
    expect([horse.fromMm, horse.toMm]).toEqual([170, 310]);
    expect(alongBar(horse, -30)).toEqual(alongBar(shim, -30));
    expect(alongBar(horse, 10)).toEqual([160, 300]);
    expect(fixedToOther(horse, 'bar', -30)).toEqual(shim);
  });
});
