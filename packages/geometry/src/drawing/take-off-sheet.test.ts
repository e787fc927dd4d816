import { describe, expect, test } from 'vitest';
import { plainShape } from '../bar/demo-shapes.fixture.ts';
import { demoTree, treeOf } from '../bar/demo-tree.fixture.ts';
import { takeOff } from './take-off.ts';
import { drawTakeOff, sixteenths, takeOffWords } from './take-off-sheet.ts';

const NAMED = { carvedName: 'Post', wantedName: 'Post <wider>', drawnOn: '2026-11-26', cautions: ['Keep in mind.'] };
const plain = (over: Parameters<typeof plainShape>[0] = {}) => treeOf(plainShape(over));
const count = (svg: string, text: string): number => svg.split(text).length - 1;

describe('the take-off sheet', () => {
  const flared = takeOff(plain(), plain({ flareZoneFrontMm: 80, flareLiftFrontMm: 12 }), { align: 'front tips' });

  test('is drawn at its own size, with one contour for each whole step and bar', () => {
    const svg = drawTakeOff(flared, { ...NAMED, step: '0.5 mm' });
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    const [, width, unitsWide] = /width="([\d.]+)mm" height="[\d.]+mm" viewBox="0 0 ([\d.]+)/.exec(svg)!;
    expect(Number(unitsWide) / Number(width)).toBeCloseTo(4, 3);
    // 12 cos 30 = 10.39 mm deep at the tip edge: 20 lines of half a millimetre on each bar.
    expect(count(svg, 'class="contour"')).toBe(40);
    expect(count(drawTakeOff(flared, { ...NAMED, step: '1/16 in' }), 'class="contour"')).toBe(12);
    for (const words of [
      'Post &lt;wider&gt;',
      'nothing to add',
      '100 mm: measure it',
      'Drawn 2026-11-26',
      'Keep in mind.',
    ])
      expect(svg).toContain(words);
  });

  test('a contour lies where its depth is: 1/2 in of a flare at (way in) = zone (1 - sqrt(depth / (lift cos slope)))', () => {
    const svg = drawTakeOff(flared, { ...NAMED, step: '1/16 in' });
    const places = [...svg.matchAll(/class="contour" d="M([\d.]+) /g)].map((found) => Number(found[1]) / 4 - 12);
    const wanted = 80 * (1 - Math.sqrt(25.4 / 16 / (12 * Math.cos(Math.PI / 6))));
    expect(Math.max(...places)).toBeCloseTo(wanted, 0);
  });

  test('hatches where wood would have to be added, and says so', () => {
    const filled = takeOff(plain({ flareZoneFrontMm: 80, flareLiftFrontMm: 12 }), plain(), { align: 'front tips' });
    const svg = drawTakeOff(filled, { ...NAMED, step: '0.5 mm' });
    const hatched = [...svg.matchAll(/class="added" d="([^"]*)"/g)].map((found) => found[1]!.length);
    expect(Math.min(...hatched)).toBeGreaterThan(20);
    expect(takeOffWords(filled.right, '0.5 mm')).toMatch(/^Nothing to remove; .*would have to be added/);
    // 12 cos 30 square to the plane, longer along the flared normal, which leans back by atan(2 x 12 / 80) less its fall across.
    expect(takeOffWords(filled.right, '1/16 in')).toMatch(/in³ would have to be added, at most 0\.42 in/);
    expect(drawTakeOff(flared, { ...NAMED, step: '0.5 mm' })).toContain('class="added" d=""');
  });

  test('very different patterns get wider steps, which the sheet states', () => {
    const far = takeOff(demoTree('rail'), demoTree('wren'), { align: 'low points' });
    const svg = drawTakeOff(far, { ...NAMED, step: '0.5 mm' });
    const [, step] = /Lines every ([\d.]+) mm/.exec(svg)!;
    const most = Math.max(far.right.deepestMm, far.right.mostAddedMm);
    expect(most / Number(step)).toBeLessThanOrEqual(40);
    expect(svg).not.toMatch(/NaN|undefined/);
  });

  test('sixteenths as a shop writes them', () => {
    expect([1, 2, 8, 16, 20, -5, 0].map(sixteenths)).toEqual(['1/16', '1/8', '1/2', '1', '1 1/4', '−5/16', '0']);
  });
});
