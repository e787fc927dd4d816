import { describe, expect, test } from 'vitest';
import tuesday from '../../../../examples/tuesday.back.json' with { type: 'json' };
import { type BackChange, type BackSurface, buildBack, changeOfBack, readBack } from '../back/index.ts';
import { drawChangeMap } from './change-map.ts';
import { createChangeGrid } from './change-map-field.ts';
import { createChangeScale } from './change-map-scale.ts';

const WORDS = { drawnOn: '2026-11-25', cautions: ['Keep <this> in mind.'], align: 'best fit' } as const;
const document = readBack({
  ...tuesday,
  measured: { by: 'Quillback Lane bench (invented)', on: '2026-06-02', uncertaintyMm: 1.5, uncertaintyDeg: 0.7 },
});
const before = buildBack(document);
const bumped = (mm: number, holed = false): BackSurface =>
  Object.create(before, {
    measured: { value: { ...before.measured, on: '2026-09-20' } },
    heightMm: {
      value: (x: number, y: number) => {
        if (holed && Math.hypot(x - 400, y - 100) < 40) return Number.NaN;
        return before.heightMm(x, y) + (Math.hypot(x - 150, y + 120) < 60 ? mm : 0);
      },
    },
  }) as BackSurface;
const changed = (after: BackSurface): BackChange =>
  changeOfBack({ back: before, facts: document }, { back: after, facts: document });
const draw = (after: BackSurface, more: object = {}): string =>
  drawChangeMap(changed(after), { before, after }, { ...WORDS, ...more });
const count = (svg: string, text: string): number => svg.split(text).length - 1;

describe('the change map', () => {
  test('is colour where a change can be shown, the one hatching within error, the other without data', () => {
    const svg = draw(bumped(6, true));
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    for (const text of [
      '2026-06-02',
      '2026-09-20',
      'Drawn 2026-11-25',
      'Keep &lt;this&gt; in mind.',
      '100 mm of the back',
    ]) {
      expect(svg).toContain(text);
    }
    const scale = createChangeScale({ lowerMm: 10, fullerMm: 10 });
    const step = scale.fillLevels.filter((level) => level <= 6).length;
    expect(svg).toContain(`fill="${scale.fill(step)}"`);
    // The legend has one box of each hatching; the field has one path of each.
    expect(count(svg, 'url(#within-error)')).toBe(2);
    expect(count(svg, 'url(#no-data)')).toBe(2);
    expect(count(draw(bumped(6)), 'url(#no-data)')).toBe(1);
  });

  test('a change within error shows no contour figure and is hatched up to the border', () => {
    const svg = draw(bumped(1));
    const field = svg.slice(0, svg.indexOf('mm behind the blade edge'));
    expect(field).not.toMatch(/stroke-opacity/);
    const grid = createChangeGrid(changed(bumped(1)).bestFit);
    expect([...grid.hidden].every((room) => room > 0)).toBe(true);
  });

  test('the colours run from the clearance map: fuller plum, lower teal, and the ends stay where they are set', () => {
    const scale = createChangeScale({ lowerMm: 10, fullerMm: 10 });
    const rgb = (hex: string): number[] => [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
    const [lower, fuller] = [rgb(scale.fill(0)), rgb(scale.fill(scale.fillLevels.length))];
    expect(lower[1]!).toBeGreaterThan(lower[0]!);
    expect(fuller[0]!).toBeGreaterThan(fuller[1]!);
    const wide = draw(bumped(6), { scale: { lowerMm: 20, fullerMm: 30 } });
    expect(wide).toContain('+30 mm fuller');
    expect(draw(bumped(3))).toContain('+10 mm fuller');
  });

  test('names can neither break it nor add to it; the owner is named only when asked for', () => {
    const after = Object.create(bumped(6), { name: { value: '</text><script>x</script>"&' } }) as BackSurface;
    const svg = draw(after);
    expect(svg).not.toContain('<script');
    expect(svg).not.toContain('Owner:');
    expect(draw(after, { owner: 'A. Person' })).toContain('Owner: A. Person.');
  });

  test('left of the horse lies left on the page, front up, one unit a millimetre', () => {
    const svg = draw(bumped(6));
    const ring = /<path d="([^"]*)" fill="url\(#within-error\)"/.exec(svg)![1]!;
    const frame = ring
      .split('M')
      .filter(Boolean)
      .map((part) => part.match(/[\d.]+ [\d.]+/g)!.map((pair) => pair.split(' ').map(Number)));
    const hole = frame.reduce((a, b) => (a.length < b.length ? a : b));
    const middle = [0, 1].map((k) => hole.reduce((sum, point) => sum + point[k]!, 0) / hole.length);
    // The midline lies at 398, the blade edge at 106.
    expect(middle[0]! - 398).toBeCloseTo(-120, -1);
    expect(middle[1]! - 106).toBeCloseTo(150, -1);
  });
});
