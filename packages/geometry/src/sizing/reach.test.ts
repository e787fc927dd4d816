import { beforeAll, describe, expect, test } from 'vitest';
import { type BackSurface, buildSectionsBack } from '../back/index.ts';
import { demoDocument, demoPatternTree } from '../findings/scenario.fixture.ts';
import { bearingEnds, SETUP_DEFAULTS } from '../seating/index.ts';
import { type Reach, type ReachOptions, radiusOfSag, reachOf, reachSteps } from './reach.ts';
import { drawSteps } from './reach-error.ts';
import { liftOfStep } from './reach-lift.ts';
import { readNode } from './reach-node.ts';
import { furthest, LEAST_RATIO } from './reach-ratio.ts';
import { ratiosAt, shareWithin } from './reach-within.ts';
import { ellipseScale, reachSentences } from './reach-words.ts';

const post = demoPatternTree('post');
const heron = buildSectionsBack(demoDocument('heron'));
const SMALL: ReachOptions = { nodes: 7, samples: 500 };

function reachTo(tree: typeof post, back: BackSurface, options: ReachOptions = SMALL, setup = SETUP_DEFAULTS): Reach {
  const run = reachOf(tree, back, setup, options);
  let step = run.next();
  let last = 0;
  while (!step.done) {
    expect(step.value).toBe(++last);
    step = run.next();
  }
  expect(last).toBe(reachSteps(options));
  return step.value;
}

/** Heron flatter by 6.5 degrees, where Post has no finding. */
const lower = heron.lifted(liftOfStep(heron, { slopeDeg: -6.5, sagMm: 0 }, { middleXMm: 255, halfMm: 210 }));

describe('the map', () => {
  let onHeron: Reach;
  let onLower: Reach;
  beforeAll(() => {
    onHeron = reachTo(post, heron);
    onLower = reachTo(post, lower, { ...SMALL, slopeDeg: 4, sagMm: 8 });
  });
  const nodeAt = (reach: Reach, c: number, r: number) => reach.nodes[r * reach.slopesDeg.length + c]!;

  test('has what each border of it must have: curved backs bridge, straight ones rock, steep ones find a flat tree', () => {
    const middle = 3;
    expect(nodeAt(onHeron, middle, 6).code).toBe('bridging');
    expect(nodeAt(onHeron, middle, 0).code).toBe('rocking');
    expect(nodeAt(onHeron, 6, middle).code).toBe('too-flat');
    const ratios = onHeron.slopesDeg.map((_, c) => nodeAt(onHeron, c, middle).ratios['too-flat'] ?? LEAST_RATIO);
    for (let c = 1; c < ratios.length; c++) expect(ratios[c]!).toBeGreaterThanOrEqual(ratios[c - 1]!);
    // 3 degrees of slope are one rule.
    expect((ratios[6]! - ratios[3]!) / 8).toBeCloseTo(1 / 3, 1);
  });

  test('a curve of one rule more bridges by one rule more', () => {
    const at = (r: number): number => nodeAt(onHeron, 1, r).ratios.bridging!;
    expect((at(6) - at(5)) / 5).toBeCloseTo(1 / SETUP_DEFAULTS.rules.lengthwiseMm, 1);
  });

  test('its middle is the tree on the measured back, and so is the middle of the strip', () => {
    const { node } = readNode(post, null, heron, { ...SETUP_DEFAULTS, samples: 500 }, null);
    for (const here of [onHeron.here, onHeron.atPositions[6]!]) {
      expect(here.code).toBe(node.code);
      expect(here.ratio).toBeCloseTo(node.ratio!, 4);
    }
  });

  test('curves taken off the tree give the ratios of backs really curved, within a twentieth of a rule', () => {
    const { fromMm, toMm } = bearingEnds(post);
    const chord = { middleXMm: SETUP_DEFAULTS.setPositionMm + (fromMm + toMm) / 2, halfMm: (toMm - fromMm) / 2 };
    const setup = { ...SETUP_DEFAULTS, samples: 500 };
    for (const sagMm of [-10, -5, 5, 10]) {
      const lift = liftOfStep(heron, { slopeDeg: 0, sagMm }, chord);
      const met = readNode(post, lift, heron, setup, null).node;
      const real = readNode(post, null, heron.lifted(lift), setup, null).node;
      expect(met.code).toBe(real.code);
      expect(Math.abs(met.ratio! - real.ratio!), String(sagMm)).toBeLessThan(0.05);
    }
  });

  test('with a finding in the middle it names the nearest place without one, and no limits', () => {
    expect(onHeron.here.ratio).toBeGreaterThan(2);
    expect(onHeron.limits).toBeNull();
    expect(onHeron.nearest!.slopeDeg).toBeLessThan(-4);
    expect(onHeron.error.share).toBe(0);
    expect(reachSentences(onHeron).join(' ')).toMatch(
      /too flat \(wide\) is furthest over its rule, 2\.\d times.*flatter/,
    );
  });

  test('without one it says what comes first each way, where the ratio really is 1', () => {
    expect(onLower.here.ratio).toBeLessThanOrEqual(1);
    const { slopeDeg, sagMm } = onLower.limits!;
    expect(slopeDeg[1].code).toBe('too-flat');
    expect(sagMm[0].code).toBe('rocking');
    for (const step of [
      { slopeDeg: slopeDeg[1].at, sagMm: 0 },
      { slopeDeg: 0, sagMm: sagMm[0].at },
    ])
      expect(furthest(ratiosAt(onLower, step)!)!.ratio).toBeCloseTo(1, 9);
    expect(onLower.nearest).toEqual({ slopeDeg: 0, sagMm: 0 });
    const text = reachSentences(onLower).join(' ');
    expect(text).toMatch(/Slope alone: .*too flat \(wide\) from \d\.\d degrees steeper/);
    expect(text).toMatch(/about \d+ in 100 lie where this map has no finding|more than 99 in 100/);
    expect(text).not.toMatch(/\b(safe|ok|pass|fail|good|bad|suits?)\b/i);
  });

  test('the share counts drawn horses on the map: those within the limits, checked one by one (seed 1)', () => {
    const steps = drawSteps(lower, onLower.origin.chord, 1000, 1);
    const free = steps.filter((step) => (furthest(ratiosAt(onLower, step)!)?.ratio ?? 0) <= 1).length;
    expect(onLower.error.share).toBe(free / 1000);
    expect(shareWithin(onLower, [{ slopeDeg: 0, sagMm: 0 }])).toBe(1);
    const holed = { ...onLower, nodes: onLower.nodes.map((n) => ({ ...n, ratio: null })) };
    expect(shareWithin(holed, steps)).toBeNull();
  });

  test('the ellipse holds its share of drawn errors, and its axes grow with the uncertainty (seed 4)', () => {
    const { chord } = onHeron.origin;
    const steps = drawSteps(heron, chord, 4000, 4);
    const { slopeSdDeg, sagSdMm } = onHeron.error;
    const scale = ellipseScale(0.95);
    expect(scale).toBeCloseTo(2.4477, 4);
    const inside = steps.filter((s) => Math.hypot(s.slopeDeg / slopeSdDeg, s.sagMm / sagSdMm) < scale).length;
    expect(inside / 4000).toBeGreaterThan(0.93);
    expect(inside / 4000).toBeLessThan(0.97);
    const doubled = { ...heron.measured, uncertaintyMm: 6, uncertaintyDeg: 2 };
    const sure = Object.create(heron, { measured: { value: doubled } }) as BackSurface;
    const wide = drawSteps(sure, chord, 4000, 4);
    steps.slice(0, 50).forEach(({ sagMm, slopeDeg }, i) => {
      expect(wide[i]!.sagMm).toBeCloseTo(2 * sagMm, 6);
      expect(wide[i]!.slopeDeg).toBeCloseTo(slopeDeg, 6);
    });
  });
});

test('a step turns slopes by its degrees and bends the bearing line by its sag', () => {
  const chord = { middleXMm: 250, halfMm: 200 };
  const lift = liftOfStep(heron, { slopeDeg: 3, sagMm: 0 }, chord);
  const length = heron.landmarks.lastRib[0];
  for (const sign of [-1, 1] as const) {
    for (const share of [0, 0.25, 0.5, 0.75, 1]) {
      const x = share * length;
      const fall = (at: (x: number, y: number) => number): number => (at(x, sign * 90) - at(x, sign * 150)) / 60;
      const before = Math.atan(fall((px, py) => heron.heightMm(px, py)));
      const after = Math.atan(fall((px, py) => heron.heightMm(px, py) + lift.at(px, py)));
      expect(((after - before) * 180) / Math.PI).toBeCloseTo(3, 1);
    }
  }
  const bent = liftOfStep(heron, { slopeDeg: 0, sagMm: 7 }, chord);
  expect((bent.at(50, 120) + bent.at(450, 120)) / 2 - bent.at(250, 120)).toBeCloseTo(7, 9);
});

test('sag and radius of an arc belong together', () => {
  expect(radiusOfSag(1500 - Math.sqrt(1500 ** 2 - 210 ** 2), 210)).toBeCloseTo(1500, 6);
  expect(radiusOfSag(0, 210)).toBeNull();
  expect(radiusOfSag(-3, 210)).toBeNull();
});

describe('flexible bars over rigid ones', () => {
  const flexible = { ...SETUP_DEFAULTS, flex: { ...SETUP_DEFAULTS.flex, bars: 'flexible' as const } };
  const small: ReachOptions = { nodes: 5, samples: 400, slopeDeg: 4, sagMm: 8 };

  test('the rigid map beside it is the rigid map, and the sentence counts both', () => {
    const both = reachTo(post, lower, small, flexible);
    const alone = reachTo(post, lower, small);
    expect(alone.rigid).toBeNull();
    expect(both.rigid!.nodes.map(({ ratio }) => ratio!.toFixed(4))).toEqual(
      alone.nodes.map(({ ratio }) => ratio!.toFixed(4)),
    );
    const counted = both.nodes.filter(({ ratio }) => ratio !== null && ratio <= 1).length;
    const sentence = reachSentences(both).find((text) => text.startsWith('Against rigid bars'))!;
    expect(sentence).toContain(`no finding at ${counted} of 25 places with these bars`);
    expect(reachSentences(alone).some((text) => text.startsWith('Against rigid'))).toBe(false);
  });
});
