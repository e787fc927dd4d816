import {
  type BackSurface,
  buildBack,
  buildTracingsBack,
  checkTracings,
  seededRandom,
  type TracingsBackDocument,
} from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { exampleBack } from '../support/examples.ts';

/** How a horse is traced: mean distance of the stations and how unevenly they lie, error of each point, curves along. */
interface Manner {
  readonly what: string;
  readonly everyMm: number;
  /** Stations lie this share of their mean distance nearer or further. */
  readonly uneven: number;
  readonly errorMm: number;
  readonly along: readonly number[];
  /** Least share of places that lie within what the back says of itself. */
  readonly least: number;
}

const MANNERS: readonly Manner[] = [
  { what: 'each 50 mm, exact', everyMm: 50, uneven: 0, errorMm: 0, along: [], least: 1 },
  { what: 'each 50 mm and a topline, exact', everyMm: 50, uneven: 0, errorMm: 0, along: [0], least: 1 },
  {
    what: 'each 50 mm and three lines, 0.5 mm off',
    everyMm: 50,
    uneven: 0,
    errorMm: 0.5,
    along: [-120, 0, 120],
    least: 0.99,
  },
  { what: 'each 100 mm, exact', everyMm: 100, uneven: 0, errorMm: 0, along: [], least: 0.95 },
  { what: 'unevenly, 49 to 91 mm, 0.5 mm off', everyMm: 70, uneven: 0.3, errorMm: 0.5, along: [], least: 0.95 },
  {
    what: 'unevenly, 70 to 130 mm, and a topline, 0.5 mm off',
    everyMm: 100,
    uneven: 0.3,
    errorMm: 0.5,
    along: [0],
    least: 0.95,
  },
];
const SEEDS = [8101, 8102, 8103];
const PLACES = 2000;
/** No place leaves its claim by more than this; found by this test, 3.4 where an uneven station stands in for a bend it missed. */
const FURTHEST = 4;

/**
 * A back from tracings says how uncertain it is at each x. Here the horse is known everywhere, so the saying can be
 * counted: places at random, between stations and on them, whose distance from the true surface is within it. Points lie
 * 4 to 16 mm apart across, at random. The share is a measurement uncertainty's usual 95 % (JCGM 100, from memory).
 */
describe.each(['dumpling', 'heron', 'tuesday'])('%s traced from a known surface', (stem) => {
  const horse = buildBack(exampleBack(stem));

  it.each(MANNERS)('$what: $least of places within the stated uncertainty (seeds 8101 to 8103)', (manner) => {
    const shares = SEEDS.flatMap((seed) => errorsOverClaims(horse, manner, seed));
    expect(shares.length).toBeGreaterThan(0.85 * SEEDS.length * PLACES);
    const within = (claim: number): number => shares.filter((share) => share <= claim).length / shares.length;
    expect(within(1)).toBeGreaterThanOrEqual(manner.least);
    expect(Math.max(...shares)).toBeLessThan(FURTHEST);
    // A claim ten times too wide would say nothing: a tenth of it must be too little.
    expect(within(0.1)).toBeLessThan(0.97);
  });
});

/** Distance from the true surface at right angles over the stated uncertainty, at seeded places that have data. */
function errorsOverClaims(horse: BackSurface, manner: Manner, seed: number): number[] {
  const random = seededRandom(seed);
  const traced = traceHorse(horse, manner, random);
  const answers = Object.fromEntries(
    checkTracings(traced).flatMap((question) => (question.blocking ? [[question.id, 'keep']] : [])),
  );
  const { back } = buildTracingsBack({ ...traced, answers });
  const lift = back.fileToHorse[11]!;
  const shares: number[] = [];
  for (let i = 0; i < PLACES; i++) {
    const [x, y] = [-80 + 760 * random(), 228 * (2 * random() - 1)];
    const off = back.heightMm(x, y) - lift - horse.heightMm(x, y);
    if (Number.isNaN(off)) continue;
    const along = horse.heightMm(x + 0.5, y) - horse.heightMm(x - 0.5, y);
    const across = horse.heightMm(x, y + 0.5) - horse.heightMm(x, y - 0.5);
    shares.push(Math.abs(off) / Math.hypot(1, along, across) / back.uncertaintyAt!(x));
  }
  return shares;
}

function traceHorse(horse: BackSurface, manner: Manner, random: () => number): TracingsBackDocument {
  const drawn = (x: number, y: number): [number, number, number] => [
    x,
    y,
    horse.heightMm(x, y) + manner.errorMm * (2 * random() - 1),
  ];
  const stations: number[] = [];
  for (let x = -90; x <= 690; x += manner.everyMm * (1 + manner.uneven * (2 * random() - 1))) stations.push(x);
  const across = stations.map((x, i) => {
    const points: [number, number, number][] = [];
    for (let y = -238; y <= 238; y += 4 + 12 * random()) points.push(drawn(x, y));
    return { id: `s${i}`, kind: 'cross' as const, points };
  });
  const along = manner.along.map((y) => {
    const points: [number, number, number][] = [];
    for (let x = stations[0]!; x <= stations.at(-1)!; x += 6 + 14 * random()) points.push(drawn(x, y));
    return { id: `line ${y}`, kind: 'lengthwise' as const, points };
  });
  const { bladeEdgeLeft, bladeEdgeRight, withersTop, lastRib } = horse.landmarks;
  const marks = { bladeEdgeLeft, bladeEdgeRight, withersTop, lastRib };
  return {
    schema: 'barwright/back/1',
    kind: 'tracings',
    name: horse.name,
    unit: 'mm',
    curves: [...across, ...along],
    landmarks: Object.fromEntries(Object.entries(marks).map(([name, p]) => [name, [...p]])),
    measured: { by: 'made from the demo back', on: '2024-05-01', uncertaintyMm: 0.5, uncertaintyDeg: 1 },
  };
}
