import { beforeAll, describe, expect, test } from 'vitest';
import heron from '../../../../examples/heron.back.json' with { type: 'json' };
import post from '../../../../examples/post.pattern.json' with { type: 'json' };
import { buildBack, readBack } from '../back/index.ts';
import { buildTree } from '../bar/index.ts';
import { readPattern, resolvePattern } from '../pattern/index.ts';
import { SETUP_DEFAULTS } from '../seating/index.ts';
import { ellipseScale, type Reach, reachOf } from '../sizing/index.ts';
import { drawReachMap } from './reach-map.ts';
import { REACH_LEVELS, reachFill, reachStepOf } from './reach-map-scale.ts';

const back = buildBack(readBack(heron));
const tree = buildTree(resolvePattern(readPattern(post)));
const WORDS = {
  drawnOn: '2026-11-25',
  cautions: ['Keep <this> in mind.'],
  measured: back.measured,
  load: '932 N at 47 %',
  rulesBy: 'common practice, no source',
};
let reach: Reach;
let svg: string;

beforeAll(() => {
  const run = reachOf(tree, back, SETUP_DEFAULTS, { nodes: 9, samples: 400 });
  let step = run.next();
  while (!step.done) step = run.next();
  reach = step.value;
  svg = drawReachMap(reach, WORDS);
});

const numbersOf = (text: string): number[] => [...text.matchAll(/-?\d+(\.\d+)?/g)].map(([n]) => Number(n));

describe('the reach map', () => {
  test('is whole: names, axes, strip, dates, cautions escaped, no figure missing', () => {
    for (const text of [
      ...['Post: its reach around Heron', 'too flat (wide)', 'rocking', 'bridging', 'no finding', 'Heron as measured'],
      ...['change of slope, both sides, degrees', 'radius, mm', 'straight', 'times its rule', 'Drawn 2026-11-25.'],
      ...['set position against \u221230 mm', back.measured.on, 'Keep &lt;this&gt; in mind.', 'nearest node without'],
    ])
      expect(svg).toContain(text);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(svg).not.toMatch(/\b(safe|pass|fail|ok)\b/i);
  });

  test('draws the ellipse of 95 of 100 to the scale of its axes, in the middle', () => {
    const [, cx, cy, rx, ry] = /<ellipse cx="([\d.]+)" cy="([\d.]+)" rx="([\d.]+)" ry="([\d.]+)"/
      .exec(svg)!
      .map(Number);
    const frame = /<rect x="102" y="76" width="(\d+)" height="(\d+)" fill="none"/.exec(svg)!.slice(1).map(Number);
    const [width, height] = frame as [number, number];
    expect(cx).toBeCloseTo(102 + width / 2, 1);
    expect(cy).toBeCloseTo(76 + height / 2, 1);
    const scale = ellipseScale(0.95);
    expect(rx).toBeCloseTo((scale * reach.error.slopeSdDeg * width) / 16, 0);
    expect(ry).toBeCloseTo((scale * reach.error.sagSdMm * height) / 30, 0);
  });

  test('paths stay within the frame, and texts within the page', () => {
    const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!.map(Number) as [number, number, number];
    const fills = [...svg.matchAll(/<path d="([^"]+)" fill="#[0-9a-f]{6}" fill-rule/g)];
    expect(fills.length).toBeGreaterThan(4);
    for (const [, data] of fills) {
      const numbers = numbersOf(data!);
      numbers.forEach((value, i) => {
        expect(value).toBeGreaterThanOrEqual(i % 2 === 0 ? 102 : 76);
        expect(value).toBeLessThanOrEqual(i % 2 === 0 ? 682 : 576);
      });
    }
    for (const [, x, y] of svg.matchAll(/<text x="([\d.-]+)" y="([\d.-]+)"/g)) {
      expect(Number(x)).toBeGreaterThan(0);
      expect(Number(x)).toBeLessThan(width);
      expect(Number(y)).toBeGreaterThan(0);
      expect(Number(y)).toBeLessThan(height);
    }
  });

  test('places without result are hatched on map and strip', () => {
    const lost = { ...reach.nodes[0]!, status: 'iteration limit', ratio: null, code: null, ratios: {} } as const;
    const holed = {
      ...reach,
      nodes: [lost, ...reach.nodes.slice(1)],
      atPositions: [lost, ...reach.atPositions.slice(1)],
    };
    const drawn = drawReachMap(holed, WORDS);
    expect(drawn.match(/fill="url\(#no-data\)"/g)).toHaveLength(2);
    expect(svg).not.toContain('fill="url(#no-data)"');
    expect(drawn).toContain('no result');
    expect(drawn).not.toMatch(/NaN/);
  });

  test('the same reach gives the same bytes', () => {
    expect(drawReachMap(reach, WORDS)).toBe(svg);
  });
});

describe('its colours', () => {
  const lightness = (hex: string): number =>
    numbersOf(hex.replace('#', '').replace(/../g, (h) => `${Number.parseInt(h, 16)} `)).reduce((a, b) => a + b);

  test('darken step by step from the paper on, and the step is that of the ratio', () => {
    const steps = Array.from({ length: REACH_LEVELS.length + 1 }, (_, i) => lightness(reachFill(i)));
    for (let i = 1; i < steps.length; i++) expect(steps[i]!).toBeLessThan(steps[i - 1]! - 10);
    expect([0.5, 1, 1.01, 1.5, 1.7, 4, 9].map(reachStepOf)).toEqual([0, 0, 1, 1, 2, 6, 7]);
  });
});
