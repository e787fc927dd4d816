import { describe, expect, it } from 'vitest';
import { InputError, transformPoint } from '../numeric/index.ts';
import { createFootRows } from '../spatial/index.ts';
import { buildBack } from './build-back.ts';
import { buildTracingsBack } from './build-tracings-back.ts';
import type { DemoBack } from './demo-backs.fixture.ts';
import { readBack } from './read-back.ts';
import { cutTracings, surfaceOf } from './tracings.fixture.ts';
import type { TracingsBackDocument } from './tracings-schema.ts';

const BACKS: readonly DemoBack[] = ['dumpling', 'heron', 'tuesday'];

/** Largest distance at right angles between the loft and the surface that was traced, and as a share of the stated uncertainty. */
function compare(name: DemoBack, doc: TracingsBackDocument, at: (x: number) => boolean, ys: readonly number[]) {
  const { back, report } = buildTracingsBack(doc);
  const surface = surfaceOf(name);
  const shift = back.fileToHorse[11]!;
  let worstMm = 0;
  let worstShare = 0;
  for (let x = report.stationsMm[0]!; x <= report.stationsMm.at(-1)!; x += 5) {
    if (!at(x)) continue;
    const row = surface.row(x);
    for (const y of ys) {
      const slope = row(y + 0.5) - row(y - 0.5);
      const away = Math.abs(back.heightMm(x, y) - row(y) - shift) / Math.hypot(1, slope);
      worstMm = Math.max(worstMm, away);
      worstShare = Math.max(worstShare, away / back.uncertaintyAt!(x));
    }
  }
  return { worstMm, worstShare, back, report };
}

const ACROSS = Array.from({ length: 47 }, (_, k) => -230 + 10 * k);

describe('tracings cut from a known surface every 50 mm, a point each 12 mm', () => {
  for (const name of BACKS) {
    const doc = cutTracings(name);

    it(`${name}: within 0.5 mm of every traced point, and the report says how far`, () => {
      const { back, report } = buildTracingsBack(doc);
      let worst = 0;
      for (const curve of doc.curves) {
        for (const [y, z] of curve.points as [number, number][]) {
          const slope =
            (back.heightMm(curve.stationMm!, Math.min(240, y + 0.1)) -
              back.heightMm(curve.stationMm!, Math.max(-240, y - 0.1))) /
            0.2;
          const away = Math.abs(back.heightMm(curve.stationMm!, y) - z - back.fileToHorse[11]!);
          worst = Math.max(worst, Number.isFinite(slope) ? away / Math.hypot(1, slope) : away);
        }
      }
      expect(worst).toBeLessThan(0.5);
      expect(report.worstMm).toBeGreaterThan(0);
      expect(report.worstMm).toBeLessThan(0.5);
      expect(doc.curves.map((c) => c.id)).toContain(report.worstCurve);
    });

    it(`${name}: between points of a station within 0.6 mm, between stations within the stated uncertainty`, () => {
      expect(compare(name, doc, (x) => x % 50 === 0, ACROSS).worstMm).toBeLessThan(0.6);
      const between = compare(name, doc, () => true, ACROSS);
      expect(between.worstShare).toBeLessThan(1);
      // Were it wide enough for anything, it would say nothing.
      expect(between.worstShare).toBeGreaterThan(0.3);
    });

    it(`${name}: frame, landmarks and fast path as for any back`, () => {
      const { back } = buildTracingsBack(doc);
      const { landmarks } = back;
      expect(back.kind).toBe('tracings');
      expect([landmarks.bladeEdgeLeft[0], landmarks.bladeEdgeRight[0]]).toEqual([0, 0]);
      expect(landmarks.proposed).toEqual(['withersTop', 'lowPoint', 'lastRib']);
      let low = Number.POSITIVE_INFINITY;
      for (let x = 0; x <= landmarks.lastRib[0]; x += 1) {
        low = Math.min(low, (back.heightMm(x, 120) + back.heightMm(x, -120)) / 2);
      }
      expect(low).toBeCloseTo(0, 3);
      expect(transformPoint(back.fileToHorse, 100, 24, 5)[0]).toBeCloseTo(100, 9);
      expect(back.fastAccuracy.samples).toBeGreaterThan(1500);
      expect(back.fastAccuracy.boundMm).toBeLessThan(0.01);
    });
  }

  it('tracings with 0.5 mm of noise are smoothed and stay within 0.5 mm of every traced point (seed 5)', () => {
    const doc = cutTracings('tuesday', { noise: { mm: 0.5, seed: 5 } });
    const { report, worstMm } = compare('tuesday', doc, (x) => x % 50 === 0, ACROSS);
    expect(report.worstMm).toBeGreaterThan(0.1);
    expect(report.worstMm).toBeLessThan(0.5);
    expect(worstMm).toBeLessThan(0.75);
  });
});

describe('where there is data', () => {
  const { back, report } = buildTracingsBack(cutTracings('heron', { fromMm: 100, toMm: 400, everyMm: 100 }));

  it('ends at the first and last station and at the traced width, exact and fast alike', () => {
    expect(report.stationsMm).toEqual([100, 200, 300, 400].map((x) => expect.closeTo(x, 9)));
    for (const [x, y, there] of [
      [101, 100, true],
      [99, 100, false],
      [399, -100, true],
      [401, -100, false],
      [250, 239, true],
      [250, 241, false],
      [250, -241, false],
    ] as const) {
      expect(Number.isNaN(back.heightMm(x, y))).toBe(!there);
    }
    const points = Float64Array.of(90, 120, 5, 250, 120, 5, 410, 120, 5, 250, 300, -200);
    const rows = createFootRows(4);
    for (const field of [back.exact, back.fast]) {
      field.evaluate(points, 0, 4, 'right', rows, false);
      expect([...rows.hasData]).toEqual([0, 1, 0, 0]);
    }
  });

  it('the uncertainty is the measured one at stations, grows towards the middle, and is none beyond', () => {
    const at = back.uncertaintyAt!;
    expect(at(200)).toBeCloseTo(0.5, 9);
    const steps = [200, 210, 220, 230, 240, 250].map(at);
    steps.slice(1).forEach((u, i) => {
      expect(u).toBeGreaterThan(steps[i]!);
    });
    expect(at(260)).toBeCloseTo(at(240), 9);
    expect(at(99)).toBeNaN();
    expect(report.interpolated[1]!.uncertaintyMm).toBeCloseTo(at(250), 9);
    expect(back.warnings.join(' ')).toMatch(/interpolated between them: uncertain by up to \d/);
  });

  it('a side that was not traced at a station has no data beside it', () => {
    const doc = cutTracings('tuesday', { fromMm: 0, toMm: 400, everyMm: 100 });
    const half = doc.curves.map((c) =>
      c.id === 'x200'
        ? { ...c, side: 'right' as const, points: (c.points as [number, number][]).filter((p) => p[0] >= 0) }
        : c,
    );
    const { back: partly } = buildTracingsBack({ ...doc, curves: half });
    expect(partly.heightMm(150, 100)).toBeCloseTo(buildTracingsBack(doc).back.heightMm(150, 100), 0);
    expect(partly.heightMm(150, -100)).toBeNaN();
    expect(partly.heightMm(250, -100)).toBeNaN();
    expect(Number.isFinite(partly.heightMm(350, -100))).toBe(true);
  });
});

describe('exact distance', () => {
  it('points lifted along the normal come back at their height, feet and Hessian right', () => {
    const { back } = buildTracingsBack(turnedCopy(cutTracings('tuesday'), 0.06));
    const on: number[] = [];
    for (const [x, y] of [
      [50, 80],
      [130, -110],
      [222, 150],
      [333, -60],
      [280, 45],
    ] as const)
      on.push(x, y, back.heightMm(x, y));
    const base = createFootRows(5);
    back.exact.evaluate(Float64Array.from(on), 0, 5, 'right', base, true);
    const lifted = Float64Array.from(on, (v, i) => v + 25 * base.normal[i]!);
    const rows = createFootRows(5);
    back.exact.evaluate(lifted, 0, 5, 'right', rows, true);
    for (let i = 0; i < 5; i++) {
      expect(base.distanceMm[i]).toBeCloseTo(0, 9);
      expect(rows.distanceMm[i]).toBeCloseTo(25, 8);
      const probe = lifted.slice(3 * i, 3 * i + 3);
      const near = createFootRows(2);
      back.exact.evaluate(
        Float64Array.of(probe[0]! + 0.05, probe[1]!, probe[2]!, probe[0]! - 0.05, probe[1]!, probe[2]!),
        0,
        2,
        'right',
        near,
        false,
      );
      for (let k = 0; k < 3; k++) {
        const slope = (near.normal[k]! - near.normal[3 + k]!) / 0.1;
        expect(slope).toBeCloseTo(rows.hessian[6 * i + k]!, 5);
      }
    }
  });

  it('a horse that stood askew in the file comes out as the straight one', () => {
    const straight = buildTracingsBack(turnedCopy(cutTracings('tuesday'), 0)).back;
    const askew = buildTracingsBack(turnedCopy(cutTracings('tuesday'), 0.06)).back;
    // The same landmarks on the same surface; only the planes of the sections are turned.
    for (const [x, y] of [
      [60, 90],
      [200, -120],
      [350, 140],
      [300, 0],
    ] as const) {
      expect(Math.abs(askew.heightMm(x, y) - straight.heightMm(x, y))).toBeLessThan(1);
    }
    expect(askew.landmarks.lastRib[1]).toBeCloseTo(0, 9);
    expect(askew.landmarks.proposed).toEqual(['lowPoint']);
  });
});

describe('lengthwise curves', () => {
  const sparse = cutTracings('heron', { fromMm: 0, toMm: 600, everyMm: 200 });
  const surface = surfaceOf('heron');
  const lengthwise = (id: string, y: number): TracingsBackDocument['curves'][number] => ({
    id,
    kind: 'lengthwise',
    points: Array.from({ length: 61 }, (_, k): [number, number, number] => [10 * k, y, surface.row(10 * k)(y)]),
  });

  it('give the heights between stations: the topline, and beside it with a curve on each bearing line', () => {
    const off = (curves: TracingsBackDocument['curves'], ys: readonly number[]): number =>
      compare('heron', { ...sparse, curves: [...sparse.curves, ...curves] }, () => true, ys).worstMm;
    const topline = [lengthwise('topline', 0)];
    const three = [...topline, lengthwise('left line', -120), lengthwise('right line', 120)];
    expect(off([], [0])).toBeGreaterThan(1);
    expect(off(topline, [0])).toBeLessThan(0.3);
    expect(off([], [-120])).toBeGreaterThan(2);
    expect(off(three, [-120, 0, 120])).toBeLessThan(0.3);
  });
});

describe('through the common door', () => {
  it('readBack and buildBack take tracings; the leg forward adds the patch behind the standing edge only', () => {
    const doc = readBack(
      JSON.parse(JSON.stringify({ ...cutTracings('tuesday'), bladeBulge: { heightMm: 10 }, bladeSwingMm: 50 })),
    );
    const standing = buildBack(doc);
    const forward = buildBack(doc, { legForward: 'left' });
    expect(standing.kind).toBe('tracings');
    expect(forward.landmarks.bladeEdgeLeft[0] - standing.landmarks.bladeEdgeLeft[0]).toBeCloseTo(50, 9);
    expect(forward.heightMm(5, -140) - standing.heightMm(5, -140)).toBeCloseTo(10, 6);
    expect(forward.heightMm(5, 140)).toBe(standing.heightMm(5, 140));
    expect(forward.heightMm(60, -140)).toBeCloseTo(standing.heightMm(60, -140), 9);
    const rows = createFootRows(1);
    forward.exact.evaluate(Float64Array.of(20, -140, forward.heightMm(20, -140)), 0, 1, 'left', rows, false);
    expect(rows.distanceMm[0]).toBeCloseTo(0, 9);
  });

  it('fewer than two stations, and documents with more fields, are refused', () => {
    const doc = cutTracings('tuesday', { fromMm: 100, toMm: 100 });
    expect(() => buildTracingsBack(doc)).toThrow(expect.objectContaining({ name: 'InputError', code: 'missing' }));
    expect(() => readBack({ ...doc, colour: 'bay' })).toThrow(InputError);
    expect(() => readBack({ ...doc, curves: [] })).toThrow(InputError);
  });
});

/** The same curves as three-number points, turned about z, with landmarks that tell how. */
function turnedCopy(doc: TracingsBackDocument, rad: number): TracingsBackDocument {
  const surface = surfaceOf('tuesday');
  const [c, s] = [Math.cos(rad), Math.sin(rad)];
  const place = (x: number, y: number): [number, number, number] => [c * x - s * y, s * x + c * y, surface.row(x)(y)];
  const inHorse = (u: number, v: number): [number, number] => [c * u + s * v, c * v - s * u];
  const curves = [-40, 20, 70, 120, 170, 220, 270, 320, 370, 420, 470, 530].map((u) => ({
    id: `u${u}`,
    kind: 'cross' as const,
    points: Array.from({ length: 35 }, (_, k): [number, number, number] => {
      const v = -204 + 12 * k;
      const [x, y] = inHorse(u, v);
      return [u, v, surface.row(x)(y)];
    }),
  }));
  const landmarks = {
    bladeEdgeLeft: place(0, -120),
    bladeEdgeRight: place(0, 120),
    withersTop: place(0, 0),
    lastRib: place(500, 0),
  };
  return { ...doc, curves, landmarks };
}
