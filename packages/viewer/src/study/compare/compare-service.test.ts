import {
  buildBack,
  buildTree,
  type Fit,
  fitTree,
  levelLines,
  type PatternDocument,
  putLegsForward,
  readBack,
  readPattern,
  resolvePattern,
  SETUP_DEFAULTS,
  type Setup,
} from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import { demoBack, demoPattern } from '../../files/demos.ts';
import { horseRow } from '../horses/horses-service.ts';
import { compareService, viewCompared } from './compare-service.ts';

const SETUP: Setup = { ...SETUP_DEFAULTS, legForward: 'left', setPositionMm: -24 };
const pattern = (id: string): PatternDocument => readPattern(demoPattern(id));

/** By the geometry alone, from the documents. */
function byHand(patternId: string, backId: string): Fit {
  const tree = buildTree(resolvePattern(pattern(patternId)));
  const back = putLegsForward(buildBack(readBack(demoBack(backId)!.json)), SETUP.legForward);
  return fitTree(tree, back, SETUP, { detail: 'findings' });
}

describe('the comparison shows what fitTree gives for the same documents', () => {
  test('three results, each with its own horse, one after the other', async () => {
    const of = [
      ['wren', 'dumpling'],
      ['post', 'tuesday'],
    ] as const;
    const inputs = of.map(([p, b], i) => ({
      id: `kept-${i}`,
      on: { pattern: pattern(p), setup: SETUP, backId: 900 + i, back: demoBack(b)! },
    }));
    const begun = compareService.compareBegin([...inputs, { ...inputs[0]!, id: 'bench' }]);
    const parts = [];
    for (let i = 0; i < begun.total; i++) {
      const step = await compareService.compareNext(begun.id);
      expect(step).toMatchObject({ done: i + 1, isEnd: i + 1 === begun.total });
      parts.push(...step!.parts);
    }
    expect(parts.map(({ id }) => id)).toEqual(['kept-0', 'kept-1', 'bench']);
    const [wren, post] = of.map(([p, b]) => byHand(p, b)) as [Fit, Fit];
    expect(parts[0]!.result).toEqual(wren.result);
    expect(parts[1]!.result).toEqual(post.result);
    expect(parts[2]!.result).toEqual(wren.result);
    expect(parts[1]!).toEqual(viewCompared('kept-1', post));
    // The maps carry the very cells that the figures are summed from.
    const known = [...parts[1]!.maps.clearance.right.values].filter((v) => !Number.isNaN(v));
    expect(Math.min(...known)).toBeLessThan(0);
    expect(levelLines(parts[1]!.maps.clearance.right, 0).length).toBeGreaterThan(0);
  });

  test('two runs go on side by side, as of the study and of a handout; the fourth after it takes the place of one', async () => {
    const on = { pattern: pattern('post'), setup: SETUP, backId: 901, back: demoBack('tuesday')! };
    const begin = () => compareService.compareBegin([{ id: 'bench', on }]);
    const first = begin();
    const second = begin();
    expect(await compareService.compareNext(first.id)).toMatchObject({ done: 1, isEnd: true });
    expect(await compareService.compareNext(second.id)).toMatchObject({ done: 1, isEnd: true });
    for (let i = 0; i < 3; i++) begin();
    expect(await compareService.compareNext(first.id)).toBeNull();
    expect(await compareService.compareNext(second.id)).toMatchObject({ done: 1, isEnd: true });
  });

  test('a row of the horses is that fit; a horse that can not be read says why', async () => {
    const row = await horseRow(pattern('wren'), SETUP, { backId: 910, back: demoBack('dumpling')! });
    expect(row.result).toEqual(byHand('wren', 'dumpling').result);
    const broken = { ...demoBack('dumpling')!, json: { schema: 'barwright/back/1', name: 'Nothing' } };
    const refused = await horseRow(pattern('wren'), SETUP, { backId: 911, back: broken });
    expect(refused.result).toBeNull();
    expect(refused.refusal!.expected).not.toBe('');
  });
});
