import {
  buildTree,
  measureBarMesh,
  measureTree,
  meshOfBars,
  type PatternDocument,
  type Random,
  readPattern,
  resolvePattern,
  seededRandom,
} from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { beyond, compareWithExact, compareWithPattern, ROUND_TRIP, type Worst } from './compare-bars.ts';

const COUNT = 60;
const SEED = 20261;
const FINE = { alongMm: 2, acrossMm: 1.5 };
/** Steepest that a relieved edge may turn from the section, degrees: a mesh takes what is steeper than 80 for a side wall. */
const STEEPEST_RELIEF_DEG = 75;

/** A pattern within the ranges of TRADE 1 (common practice, no source); every third has a left bar of its own. */
function randomPattern(random: Random, index: number): PatternDocument {
  const between = (low: number, high: number): number => low + (high - low) * random();
  const slopes = [between(34, 52), between(22, 44), between(14, 34)];
  const widths = [between(115, 180), between(75, 120), between(130, 190)];
  const reliefWidth = (100 * between(8, 12)) / widths[1];
  const tipTaper = between(60, 100);
  // The strip is a share of the width, so it is narrowest at the tapered tips.
  const narrowing = (reliefWidth / 100) * (tipTaper / 100);
  const deepest = Math.min(...slopes.map((slope, i) => deepestRelief(slope, narrowing * widths[i])));
  const bar = {
    slopeFront: slopes[0],
    slopeWaist: slopes[1],
    slopeRear: slopes[2],
    widthFront: widths[0],
    widthWaist: widths[1],
    widthRear: widths[2],
    crownFront: random() < 0.1 ? 'flat' : between(250, 2000),
    crownWaist: between(250, 2000),
    crownRear: between(250, 2000),
    rockRadius: between(900, 3000),
    flareZoneFront: between(60, 90),
    flareZoneRear: between(50, 90),
    flareLiftFront: between(8, 30),
    flareLiftRear: between(6, 25),
    reliefDepth: between(Math.min(2, deepest), Math.min(6, deepest)),
    reliefWidth,
    tipTaper,
    tipRound: between(0, 35),
  };
  const left =
    index % 3 === 0 ? { slopeFront: slopes[0] - 2, rockRadius: bar.rockRadius * 1.1, flareLiftFront: 12 } : {};
  return readPattern({
    schema: 'barwright/pattern/1',
    name: `Post ${index}`,
    stations: [
      { name: 'front', atPercent: 20 },
      { name: 'waist', atPercent: 50 },
      { name: 'rear', atPercent: 80 },
    ],
    values: {
      length: between(480, 660),
      rockLowPoint: between(42, 58),
      spreadFront: between(140, 185),
      spreadWaist: between(100, 125),
      spreadRear: between(100, 125),
      ...bar,
    },
    leftValues: left,
  });
}

/** Depth at which the relief's end has turned by STEEPEST_RELIEF_DEG from a straight section; it falls outward, so outward counts. */
function deepestRelief(slopeDeg: number, widthAlongChord: number): number {
  const strip = widthAlongChord * Math.cos((slopeDeg * Math.PI) / 180);
  const turned = Math.tan(((STEEPEST_RELIEF_DEG - slopeDeg) * Math.PI) / 180);
  return (strip / 2) * (turned + Math.tan((slopeDeg * Math.PI) / 180));
}

describe(`${COUNT} random patterns, seed ${SEED}`, () => {
  const random = seededRandom(SEED);
  const patterns = Array.from({ length: COUNT }, (_, i) => resolvePattern(randomPattern(random, i)));

  const trees = patterns.map(buildTree);
  const exact = trees.map((tree) => measureTree(tree));

  it('come back from their exact undersides to rounding', () => {
    const worst: Worst = new Map();
    for (const [i, pattern] of patterns.entries()) {
      compareWithPattern(exact[i].right!, pattern.right, worst);
      compareWithPattern(exact[i].left!, pattern.left, worst);
    }
    expect(Math.max(...worst.values())).toBeLessThan(1e-7);
  });

  it('come back from a fine mesh within 0.05 mm and 0.02 degrees', { timeout: 300_000 }, () => {
    const worst: Worst = new Map();
    for (const [i, pattern] of patterns.entries()) {
      const side = i % 3 === 0 ? 'left' : 'right';
      const bar = measureBarMesh(meshOfBars(trees[i], FINE)[side])[side]!;
      compareWithPattern(bar, pattern[side], worst);
      compareWithExact(bar, exact[i][side]!, pattern[side], worst);
    }
    expect(beyond(worst, ROUND_TRIP)).toEqual([]);
  });
});
