// What every sentence of the shipped lessons claims, computed from its own steps. The sizes are those of the sentences.
import { readFileSync } from 'node:fs';
import {
  type FindingCode,
  type Fit,
  fitDocuments,
  type LessonDocument,
  readBack,
  readLesson,
  readPattern,
  readSetup,
  SETUP_DEFAULTS,
  setPatternValues,
  zoneLoads,
} from '@barwright/geometry';
import { describe, expect, test } from 'vitest';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../examples/${name}`, import.meta.url), 'utf8'));

type Json = Record<string, unknown>;

/** A layer is picked from its list by name. */
const stepInto = (at: Json | readonly Json[], part: string): Json =>
  (Array.isArray(at) ? at.find(({ name }) => name === part) : (at as Json)[part]) as Json;

/** The default setup with values at dotted keys changed. */
function setupOf(changes: LessonDocument['steps'][number]['setup']) {
  const setup = structuredClone(SETUP_DEFAULTS) as unknown as Json;
  for (const [key, value] of Object.entries(changes)) {
    const parts = key.split('.');
    const holder = parts.slice(0, -1).reduce((at, part) => stepInto(at, part), setup);
    holder[parts.at(-1)!] = value;
  }
  return readSetup(setup);
}

/** The steps of a lesson as they are played, each seated when it is first asked for. */
function played(file: string): (step: number) => Fit {
  const { steps } = readLesson(example(file), file);
  const fits = new Map<number, Fit>();
  return (number) => {
    const step = steps[number - 1]!;
    const { base, set } = typeof step.pattern === 'string' ? { base: step.pattern, set: {} } : step.pattern;
    const pattern = setPatternValues(readPattern(example(base)), Object.entries(set));
    const documents = { pattern, back: readBack(example(step.back)), setup: setupOf(step.setup) };
    const fit = fits.get(number) ?? fitDocuments(documents, { detail: 'figures' });
    fits.set(number, fit);
    return fit;
  };
}

/** Laid on, middle less the line through the ends, both bars, mm: + bridges. */
const daylight = ({ result }: Fit): number[] => [
  result.mismatch.lengthwiseLeftMm ?? Number.NaN,
  result.mismatch.lengthwiseRightMm ?? Number.NaN,
];
const middle = ({ result }: Fit): number => result.contact.shareMiddle;
const found = ({ result }: Fit, code: FindingCode) => result.findings.filter((finding) => finding.code === code);
const zone = (fit: Fit, ...names: string[]): number =>
  zoneLoads(fit.seated)
    .filter(({ name }) => names.includes(name))
    .reduce((sum, { loadN }) => sum + loadN, 0);
const tipsOf = (fit: Fit, end: 0 | 1) => fit.result.flex!.bars.map(({ tips }) => tips[end]!);

const number = (value: number | null): number => value ?? Number.NaN;

function between(values: number | readonly number[], least: number, most: number): void {
  for (const value of [values].flat()) {
    expect(value).toBeGreaterThan(least);
    expect(value).toBeLessThan(most);
  }
}

describe('why a long tree bridges on a short back', () => {
  const step = played('two-lengths.lesson.json');

  test('1: between 4 and 5 mm open under the middle of short bars with a flat rock', () => {
    between(daylight(step(1)), 4, 5);
  });
  test('2: only longer, about 8 mm', () => {
    between(daylight(step(2)), 7.5, 8.5);
    expect(found(step(2), 'bridging')).toHaveLength(1);
  });
  test('3: longer still, 10 to 11 mm, more than twice as much; the middle third carries less than a tenth', () => {
    between(daylight(step(3)), 10, 11);
    for (const [i, mm] of daylight(step(3)).entries()) expect(mm).toBeGreaterThan(2 * daylight(step(1))[i]!);
    between(middle(step(3)), 0, 0.1);
  });
  test('4: with the round rock 2 mm or less, and about a quarter of the load', () => {
    between(daylight(step(4)), -2, 2.05);
    between(middle(step(4)), 0.22, 0.28);
    expect(found(step(4), 'bridging')).toEqual([]);
  });
  test('5: a thicker pad leaves the daylight, lifts the tree by about 23 mm, and the middle third carries less', () => {
    for (const [i, mm] of daylight(step(5)).entries()) expect(mm).toBeCloseTo(daylight(step(3))[i]!, 1);
    between(step(5).result.pose.heightMm - step(3).result.pose.heightMm, 22, 24);
    expect(middle(step(5))).toBeLessThan(middle(step(3)) - 0.01);
  });
  test('6: the round rock still bears some 160 mm past the last rib, at 500 mm less than 40 mm', () => {
    const past = (fit: Fit): number[] => found(fit, 'past-last-rib').map(({ sizeMm }) => sizeMm);
    expect(found(step(6), 'bridging')).toEqual([]);
    expect(past(step(6)).length).toBeGreaterThan(0);
    between(past(step(6)), 150, 170);
    // "The same bars at 500 mm": the round rock, as Wren is.
    const short = fitDocuments(
      {
        pattern: readPattern(example('wren.pattern.json')),
        back: readBack(example('dumpling.back.json')),
        setup: SETUP_DEFAULTS,
      },
      { detail: 'figures' },
    );
    expect(past(short).length).toBeGreaterThan(0);
    between(past(short), 0, 40);
  });
});

describe('an angle is not a width', () => {
  const step = played('angle-not-width.lesson.json');
  const p95 = (n: number): number => step(n).result.contact.p95PressureKPa;
  const height = (n: number): number => step(n).result.pose.heightMm;

  test('1: front, middle and rear all carry', () => {
    const { shareFront, shareMiddle, shareRear } = step(1).result.contact;
    between([shareFront, shareMiddle, shareRear], 0.25, 0.4);
  });
  test('2: only wider sinks by 8 mm and tips down by almost a degree; the pressure stays within half a kPa', () => {
    between(height(1) - height(2), 7.5, 8.5);
    between(step(1).result.pose.pitchDeg - step(2).result.pose.pitchDeg, 0.7, 1);
    between(number(step(1).result.spine.atForkMm) - number(step(2).result.spine.atForkMm), 11.5, 13);
    between(p95(2) - p95(1), -0.5, 0.5);
  });
  test('3: only flatter bears on the inner edges at front and rear, some 10 mm nearer to the spine along the seat', () => {
    expect(found(step(3), 'inner-edge-bearing').length).toBeGreaterThan(0);
    expect(found(step(3), 'too-flat').length).toBeGreaterThan(0);
    expect(found(step(3), 'outer-edge-bearing')).toEqual([]);
    between(number(step(1).result.spine.alongMm) - number(step(3).result.spine.alongMm), 9, 11.5);
  });
  test('4: only steeper bears on the outer edge, the inner one more than 15 mm clear; 95th percentile up by about 5 kPa', () => {
    expect(found(step(4), 'outer-edge-bearing').length).toBeGreaterThan(0);
    expect(Math.max(...found(step(4), 'too-steep').map(({ sizeMm }) => sizeMm))).toBeGreaterThan(15);
    between(p95(4) - p95(1), 4.5, 5.5);
  });
  test('5: width hardly makes up for it: half a kPa of the five; 8 mm lower', () => {
    expect(found(step(5), 'too-steep').length).toBeGreaterThan(0);
    between(p95(4) - p95(5), 0.3, 0.8);
    between(height(4) - height(5), 7.5, 8.9);
  });
});

describe("what tips can and can't do", () => {
  const step = played('tips.lesson.json');
  const front = (n: number): number => zone(step(n), 'front tip');

  test('1: flat front tips over the blades carry about 180 N', () => {
    between(front(1), 170, 190);
  });
  test('2: lifted, about a fifth less; the peak falls by less than 1 kPa, for the blade reaches beyond the tip', () => {
    between(front(2) / front(1), 0.75, 0.85);
    between(step(1).result.contact.peakPressureKPa - step(2).result.contact.peakPressureKPa, 0, 1);
    const { flareZoneFront } = readPattern(example('post.pattern.json')).values;
    for (const { overBladeMm } of step(2).result.tips) expect(overBladeMm).toBeGreaterThan(Number(flareZoneFront));
  });
  test('3: bending instead, by about 3 mm, takes about 6 %, less than the lift', () => {
    between(1 - front(3) / front(1), 0.04, 0.08);
    expect(front(3)).toBeGreaterThan(front(2));
    between(
      tipsOf(step(3), 0).map(({ moveMm }) => moveMm),
      2.7,
      3.4,
    );
  });
  test('4: the bar that bridges, rigid: more than 10 mm, and less than a tenth on the middle third', () => {
    between(daylight(step(4)), 10, 12);
    between(middle(step(4)), 0, 0.1);
  });
  test('5: tips that bend give 2 to 3 mm, load goes to the feet, and the middle third gains less than one per cent', () => {
    between(
      tipsOf(step(5), 0).map(({ moveMm }) => moveMm),
      2,
      3,
    );
    expect(front(5)).toBeLessThan(front(4));
    const feet = ["fork's foot", "cantle's foot"];
    expect(zone(step(5), ...feet)).toBeGreaterThan(zone(step(4), ...feet));
    between(middle(step(5)) - middle(step(4)), 0, 0.01);
  });
  test('6: thin tips give 6 to 7 mm and carry some 8 % less; still less than a tenth in the middle; three times the strain', () => {
    between(
      tipsOf(step(6), 0).map(({ moveMm }) => moveMm),
      6,
      7,
    );
    const tips = (n: number): number => zone(step(n), 'front tip', 'rear tip');
    between(1 - tips(6) / tips(5), 0.07, 0.1);
    between(middle(step(6)), 0, 0.1);
    tipsOf(step(6), 1).forEach(({ rootStrainPercent }, i) => {
      between(rootStrainPercent / tipsOf(step(5), 1)[i]!.rootStrainPercent, 2.5, 4);
    });
  });
});
