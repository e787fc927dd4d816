import { describe, expect, it } from 'vitest';
import { seededRandom } from '../numeric/index.ts';
import { plateau, rampUp } from '../numeric/ramps.ts';
import { bladeBulgeHeightMm } from './blade-bulge.ts';
import { bareBack, type DemoBack, demoBack } from './demo-backs.fixture.ts';
import { createSectionHeight } from './section-height.ts';
import type { SectionsBackDocument } from './sections-schema.ts';
import { createSurfaceJet } from './surface-jet.ts';

const BACKS: readonly DemoBack[] = ['dumpling', 'heron', 'tuesday'];
const STANDING = { left: 0, right: 0 };
const RADIANS = Math.PI / 180;

/** Distance from the midline at which one side lies `fallMm` below the ridge at x. */
function halfWidth(doc: SectionsBackDocument, xMm: number, fallMm: number, side: 1 | -1): number {
  const row = createSectionHeight(doc, STANDING).row(xMm);
  let [low, high] = [0, doc.edgeYMm];
  for (let i = 0; i < 60; i++) {
    const y = (low + high) / 2;
    if (row(0) - row(side * y) < fallMm) low = y;
    else high = y;
  }
  return (low + high) / 2;
}

/** TRADE 5: figures derived there from the tables by its own quadrature, printed to 1 mm. */
const DERIVED: Record<DemoBack, { ridge: readonly number[]; withersWidth: number }> = {
  dumpling: { ridge: [86, 60, 42, 37, 43, 60, 88], withersWidth: 264 },
  heron: { ridge: [181, 137, 95, 72, 62, 64, 76], withersWidth: 122 },
  tuesday: { ridge: [123, 90, 64, 51, 49, 58, 75], withersWidth: 184 },
};

describe('the bare tables (no blade patch, hollow or asymmetry)', () => {
  for (const name of BACKS) {
    const doc = bareBack(demoBack(name));
    const height = createSectionHeight(doc, STANDING);

    it(`${name}: ridge heights at x = 0 ... 600 within 1.3 mm of the row frozen with the table`, () => {
      // The frozen rows were cut to 1 mm and integrated more coarsely: Tuesday at 0 and Heron at 400 are 1.3 and 1.1 off.
      DERIVED[name].ridge.forEach((mm, i) => {
        expect(Math.abs(height.row(100 * i)(0) - mm)).toBeLessThan(1.31);
      });
    });

    it(`${name}: ridge = bearing height + tan(slope) added up in 20,000 steps, to 1e-5 mm`, () => {
      const knots = [0, ...doc.slopeYMm];
      doc.stationsMm.forEach((x, i) => {
        const slopes = [0, ...doc.slopeDeg[i]];
        const steps = 20_000;
        let sum = 0;
        for (let s = 0; s < steps; s++) {
          const y = ((s + 0.5) / steps) * doc.bearingLineYMm;
          const k = knots.filter((knot) => knot <= y).length - 1;
          const share = (y - knots[k]) / (knots[k + 1] - knots[k]);
          const slope = slopes[k] + share * (slopes[k + 1] - slopes[k]);
          sum += (Math.tan(slope * RADIANS) * doc.bearingLineYMm) / steps;
        }
        expect(Math.abs(height.row(x)(0) - doc.bearingHeightMm[i] - sum)).toBeLessThan(1e-5);
      });
    });

    it(`${name}: withers width 75 mm below the top at x = 0 within 2 mm of ${DERIVED[name].withersWidth}`, () => {
      expect(Math.abs(2 * halfWidth(doc, 0, 75, 1) - DERIVED[name].withersWidth)).toBeLessThan(2);
    });

    it(`${name}: bearing heights and slopes come back at every station and distance`, () => {
      const jet = createSurfaceJet();
      doc.stationsMm.forEach((x, i) => {
        expect(height.row(x)(doc.bearingLineYMm)).toBeCloseTo(doc.bearingHeightMm[i], 6);
        doc.slopeYMm.forEach((y, k) => {
          for (const side of [-1, 1]) {
            height.jet(x, side * y, jet);
            expect(Math.atan(-jet.zy * side) / RADIANS).toBeCloseTo(doc.slopeDeg[i][k], 9);
          }
        });
        height.jet(x, doc.edgeYMm, jet);
        const last = doc.slopeDeg[i][doc.slopeYMm.length - 1];
        expect(Math.atan(-jet.zy) / RADIANS).toBeCloseTo(last + doc.edgeSlopeAddDeg, 9);
      });
    });

    it(`${name}: left = right`, () => {
      for (let x = -95; x < 700; x += 61) {
        const row = height.row(x);
        for (let y = 5; y < doc.edgeYMm; y += 23) expect(row(y)).toBe(row(-y));
      }
    });
  }
});

describe('published width', () => {
  it('Tuesday as shipped, 150 mm below the midline at x = 0: 312 +- 48 mm (2 SD; conference abstract 2023, T10)', () => {
    // VALIDATION part 2, E3 and check 8: horses measured at the tenth thoracic vertebra, read there at x = 0.
    const doc = demoBack('tuesday');
    const width = halfWidth(doc, 0, 150, 1) + halfWidth(doc, 0, 150, -1);
    expect(Math.abs(width - 312)).toBeLessThan(48);
  });
});

describe('height jet', () => {
  for (const name of BACKS) {
    for (const forward of [0, 1]) {
      it(`${name}${forward ? ', legs forward' : ''}: derivatives agree with differences to 1e-6, with patch, hollow and asymmetry (seed 21, 400 places)`, () => {
        const doc = demoBack(name);
        const swing = forward * doc.bladeSwingMm;
        const height = createSectionHeight(doc, { left: swing, right: swing });
        const random = seededRandom(21);
        const h = 1e-3;
        const at = (x: number, y: number) => height.jet(x, y, createSurfaceJet());
        const corners = [0, ...doc.slopeYMm, 80, 120, 160, 200];
        for (let i = 0; i < 400; i++) {
          const x = height.fromXMm + 1 + random() * (height.toXMm - height.fromXMm - 2);
          const y = (2 * random() - 1) * (doc.edgeYMm - 1);
          const here = at(x, y);
          const [fore, aft, left, right] = [at(x - h, y), at(x + h, y), at(x, y - h), at(x, y + h)];
          const check = (got: number, difference: number): void => {
            expect(Math.abs(got - difference)).toBeLessThan(1e-6 * Math.max(1, Math.abs(got)));
          };
          check(here.zx, (aft.z - fore.z) / (2 * h));
          check(here.zy, (right.z - left.z) / (2 * h));
          // Slopes are linear between knots and ramps begin and end there: second derivatives jump.
          if (corners.some((c) => Math.abs(Math.abs(y) - c) < 2 * h)) continue;
          check(here.zxx, (aft.zx - fore.zx) / (2 * h));
          check(here.zxy, (right.zx - left.zx) / (2 * h));
          check(here.zyy, (right.zy - left.zy) / (2 * h));
        }
      });
    }

    it(`${name}: the row and the jet give one height to 1e-9 mm`, () => {
      const doc = demoBack(name);
      const height = createSectionHeight(doc, STANDING);
      for (let x = -97; x < 700; x += 43) {
        const row = height.row(x);
        for (let y = -238; y < 240; y += 17) {
          expect(Math.abs(row(y) - height.jet(x, y, createSurfaceJet()).z)).toBeLessThan(1e-9);
        }
      }
    });
  }

  it('outside the stations and beyond the edge there is no height', () => {
    const height = createSectionHeight(demoBack('tuesday'), STANDING);
    expect(height.row(-100.01)(0)).toBeNaN();
    expect(height.row(700.01)(0)).toBeNaN();
    expect(height.row(300)(240.01)).toBeNaN();
    expect(height.row(300)(-240)).not.toBeNaN();
  });
});

describe('what is added to the table', () => {
  const difference = (name: DemoBack, edges = STANDING) => {
    const doc = demoBack(name);
    const with_ = createSectionHeight(doc, edges);
    const bare = createSectionHeight(bareBack(doc), edges);
    return (x: number, y: number): number => with_.row(x)(y) - bare.row(x)(y);
  };

  it('blade patch: full height ahead of the edge, half at 20 mm, gone at the edge, only beside the midline', () => {
    const bulge = { heightMm: 14, edgeXMm: 0 };
    expect(bladeBulgeHeightMm(bulge, -60, 140)).toBe(14);
    expect(bladeBulgeHeightMm(bulge, -20, 140)).toBeCloseTo(7, 12);
    expect(bladeBulgeHeightMm(bulge, 0, 140)).toBe(0);
    expect(bladeBulgeHeightMm(bulge, -60, 80)).toBe(0);
    expect(bladeBulgeHeightMm(bulge, -60, 100)).toBeCloseTo(7, 12);
    expect(bladeBulgeHeightMm(bulge, -60, 200)).toBeCloseTo(0, 12);
    expect(bladeBulgeHeightMm({ ...bulge, edgeXMm: 45 }, 0, 140)).toBeGreaterThan(13);
    expect(difference('tuesday')(-80, 140)).toBeCloseTo(12, 9);
  });

  it("Heron's left hollow is 13 mm deep at its middle, the right one 8, and both end at their radii", () => {
    const added = difference('heron');
    expect(added(110, -110)).toBeCloseTo(-13, 6);
    expect(added(110, 110)).toBeCloseTo(-8, 6);
    expect(added(110, 110 - 45)).toBeCloseTo(0, 6);
    expect(added(110 + 70, 110)).toBeCloseTo(0, 6);
  });

  it("Dumpling's left side is lifted 4 mm and its right side falls 2 degrees less between x = 0 and 200", () => {
    const doc = demoBack('dumpling');
    const added = difference('dumpling');
    expect(added(150, -150)).toBeCloseTo(4, 6);
    const [jet, bare] = [createSurfaceJet(), createSurfaceJet()];
    createSectionHeight(doc, STANDING).jet(150, 60, jet);
    createSectionHeight(bareBack(doc), STANDING).jet(150, 60, bare);
    expect((Math.atan(-jet.zy) - Math.atan(-bare.zy)) / RADIANS).toBeCloseTo(-2, 6);
    expect(added(150, 0)).toBeCloseTo(0, 9);
  });

  it('ramps run from 0 to 1 with level ends; a plateau is 1 between its ends', () => {
    expect(rampUp(5, 10, 20)).toEqual([0, 0, 0]);
    expect(rampUp(25, 10, 20)).toEqual([1, 0, 0]);
    expect(rampUp(15, 10, 20)[0]).toBeCloseTo(0.5, 12);
    expect(Math.abs(rampUp(10.0001, 10, 20)[1])).toBeLessThan(1e-4);
    expect(plateau(12, 10, 20, 5)).toEqual([1, 0, 0]);
    expect(plateau(7.5, 10, 20, 5)[0]).toBeCloseTo(0.5, 12);
    expect(plateau(22.5, 10, 20, 5)[0]).toBeCloseTo(0.5, 12);
    expect(plateau(26, 10, 20, 5)[0]).toBe(0);
  });
});
