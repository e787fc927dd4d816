import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/index.ts';
import { buildSectionsBack } from './build-sections-back.ts';
import { bareBack, type DemoBack, demoBack } from './demo-backs.fixture.ts';
import { type SectionsBackDocument, sectionsBackSchema } from './sections-schema.ts';

const BACKS: readonly DemoBack[] = ['dumpling', 'heron', 'tuesday'];

describe('frame of a back from sections (DESIGN 1)', () => {
  for (const name of BACKS) {
    const doc = demoBack(name);
    const back = buildSectionsBack(doc);
    const mean = (x: number): number => (back.heightMm(x, 120) + back.heightMm(x, -120)) / 2;

    it(`${name}: z = 0 at the low point of the mean bearing line, which is lowest there`, () => {
      const x = back.landmarks.lowPoint[0];
      expect(Math.abs(mean(x))).toBeLessThan(1e-6);
      for (let at = 0; at <= doc.usableLengthMm; at += 5) expect(mean(at)).toBeGreaterThan(-1e-5);
      expect(x).toBeGreaterThan(100);
      expect(x).toBeLessThan(doc.usableLengthMm - 100);
    });

    it(`${name}: landmarks lie on the surface, blade edges at x = 0, last rib at the usable length, none proposed`, () => {
      const { bladeEdgeLeft, bladeEdgeRight, withersTop, lastRib, lowPoint, proposed } = back.landmarks;
      for (const [x, y, z] of [bladeEdgeLeft, bladeEdgeRight, withersTop, lastRib, lowPoint]) {
        expect(back.heightMm(x, y)).toBeCloseTo(z, 9);
      }
      expect([bladeEdgeLeft[0], bladeEdgeRight[0]]).toEqual([0, 0]);
      expect(bladeEdgeLeft[1]).toBe(-bladeEdgeRight[1]);
      expect([withersTop[1], lastRib[1]]).toEqual([0, 0]);
      expect(lastRib[0]).toBe(doc.usableLengthMm);
      expect(proposed).toEqual([]);
    });

    it(`${name}: with the legs forward only the blade patch moves, by the document's swing`, () => {
      const moved = buildSectionsBack(doc, { leftMm: doc.bladeSwingMm, rightMm: 0 });
      const swing = doc.bladeSwingMm;
      expect(moved.landmarks.bladeEdgeLeft[0]).toBe(swing);
      expect(moved.heightMm(300, 130)).toBe(back.heightMm(300, 130));
      expect(moved.heightMm(10, 130)).toBe(back.heightMm(10, 130));
      expect(moved.heightMm(0, -140) - back.heightMm(0, -140)).toBeCloseTo(doc.bladeBulge.left.heightMm, 6);
    });

    it(`${name}: the fast path keeps within 0.002 mm at 99 of 100 places, 0.35 mm at worst, from 15 mm inside to 60 mm outside`, () => {
      expect(back.fastAccuracy.samples).toBeGreaterThan(1000);
      // The worst places hang 45 to 60 mm over the hollow behind the blade patch, where two feet are almost equally near
      // and the chart finds the other one.
      expect(back.fastAccuracy.boundMm).toBeLessThan(0.35);
      expect(back.fastAccuracy.p99Mm).toBeLessThan(0.002);
    });
  }

  it('the drawing mesh faces up, spans the data and lies on the surface at its corners', () => {
    const back = buildSectionsBack(demoBack('heron'));
    const { positions: p, triangles } = back.drawingMesh();
    for (let i = 0; i < triangles.length; i += 3) {
      const [a, b, c] = [3 * triangles[i], 3 * triangles[i + 1], 3 * triangles[i + 2]];
      const up = (p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a]);
      expect(up).toBeGreaterThan(0);
    }
    for (let i = 0; i < p.length; i += 3 * 37) expect(back.heightMm(p[i], p[i + 1])).toBeCloseTo(p[i + 2], 9);
    expect(Math.min(...p.filter((_, i) => i % 3 === 0))).toBe(-100);
    expect(Math.max(...p.filter((_, i) => i % 3 === 1))).toBeCloseTo(240, 9);
  });

  it('a bare back is its own mirror image', () => {
    const back = buildSectionsBack(bareBack(demoBack('tuesday')));
    for (let x = -90; x < 700; x += 83) {
      for (let y = 10; y < 240; y += 29) expect(back.heightMm(x, y)).toBe(back.heightMm(x, -y));
    }
  });
});

describe('refusals', () => {
  const refused = (change: (doc: SectionsBackDocument) => SectionsBackDocument): InputError => {
    try {
      buildSectionsBack(change(demoBack('tuesday')));
    } catch (error) {
      if (error instanceof InputError) return error;
      throw error;
    }
    throw new Error('accepted');
  };

  it('names the row that does not match its station, and the station that does not rise', () => {
    expect(refused((d) => ({ ...d, bearingHeightMm: d.bearingHeightMm.slice(1) })).details.field).toBe(
      'bearingHeightMm',
    );
    expect(refused((d) => ({ ...d, slopeDeg: d.slopeDeg.slice(1) })).details.field).toBe('slopeDeg');
    expect(
      refused((d) => ({ ...d, slopeDeg: d.slopeDeg.map((row, i) => (i === 2 ? row.slice(1) : row)) })).details.field,
    ).toBe('slopeDeg[2]');
    expect(refused((d) => ({ ...d, stationsMm: d.stationsMm.map((x, i) => (i === 3 ? 100 : x)) })).details.field).toBe(
      'stationsMm[3]',
    );
    expect(refused((d) => ({ ...d, edgeYMm: 150 })).code).toBe('inconsistent');
  });

  it('slopes that reach the vertical with the edge, the asymmetry or the spline between stations', () => {
    const steep = (slope: number) => (d: SectionsBackDocument) => ({
      ...d,
      slopeDeg: d.slopeDeg.map((row, i) => (i === 1 ? [row[0], row[1], row[2], slope] : row)),
    });
    expect(refused(steep(84)).code).toBe('out-of-range');
    expect(refused(steep(84)).details.field).toBe('slopeDeg');
    expect(refused((d) => ({ ...steep(70)(d), edgeSlopeAddDeg: 19 })).code).toBe('out-of-range');
    const wild = [-30, -30, 80, 80, -30, -30, 80, 80, -30];
    expect(refused((d) => ({ ...d, slopeDeg: wild.map((s) => [s, s, s, s]) })).code).toBe('out-of-range');
  });

  it('the schema refuses not-a-number, a slope of 90 degrees and unknown fields', () => {
    const doc = demoBack('tuesday');
    expect(sectionsBackSchema.safeParse({ ...doc, edgeYMm: Number.NaN }).success).toBe(false);
    expect(sectionsBackSchema.safeParse({ ...doc, slopeDeg: [[90, 40, 40, 40]] }).success).toBe(false);
    expect(sectionsBackSchema.safeParse({ ...doc, colour: 'bay' }).success).toBe(false);
    expect(sectionsBackSchema.safeParse(doc).success).toBe(true);
  });
});
