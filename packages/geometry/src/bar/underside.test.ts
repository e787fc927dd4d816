import { describe, expect, it } from 'vitest';
import { InputError, seededRandom } from '../numeric/index.ts';
import type { BarShape, BarStation } from './bar-shape.ts';
import { type DemoName, demoShape, plainShape } from './demo-shapes.fixture.ts';
import { createHeightJet, createUnderside, type HeightJet } from './underside.ts';

const DEMOS: readonly DemoName[] = ['wren', 'post', 'rail'];
const RADIANS = Math.PI / 180;

/** A bar whose every station value varies, so that all cross terms of the jet count. */
function livelyShape(): BarShape {
  const base = demoShape('post');
  const crowns = [1 / 300, 1 / 700, -1 / 900];
  const insets = [39, 70, 55];
  const stations = base.stations.map(
    (s, i): BarStation => ({ ...s, crownCurvaturePerMm: crowns[i], bearingInsetMm: insets[i] }),
  );
  return { ...base, stations, rockLowPointMm: 240 };
}

const SHAPES: readonly (readonly [string, BarShape])[] = [
  ...DEMOS.map((name) => [name, demoShape(name)] as const),
  ['varying crown and inset', livelyShape()],
];

const jetAt = (shape: BarShape, b: number, y: number, bare = false): HeightJet => {
  const bar = createUnderside(shape);
  return bar.heightJet(bar.row(b), y, createHeightJet(), bare);
};

describe('height jet', () => {
  for (const [name, shape] of SHAPES) {
    for (const bare of [false, true]) {
      it(`${name}${bare ? ', bare' : ''}: all five derivatives agree with central differences to 1e-6 (seed 7, 300 places)`, () => {
        const random = seededRandom(7);
        const bar = createUnderside(shape);
        const at = (b: number, y: number): HeightJet => bar.heightJet(bar.row(b), y, createHeightJet(), bare);
        const step = 1e-3;
        for (let i = 0; i < 300; i++) {
          const b = 2 + random() * (shape.lengthMm - 4);
          const row = bar.row(b);
          const y = row.middleY[0] + (2 * random() - 1) * 0.99 * row.halfWidthY[0];
          const here = at(b, y);
          const [fore, aft] = [at(b - step, y), at(b + step, y)];
          const [inner, outer] = [at(b, y - step), at(b, y + step)];
          const check = (got: number, difference: number): void => {
            expect(Math.abs(got - difference)).toBeLessThan(1e-6 * Math.max(1, Math.abs(got)));
          };
          check(here.zb, (aft.z - fore.z) / (2 * step));
          check(here.zy, (outer.z - inner.z) / (2 * step));
          // A zone's start lies in between where second derivatives jump: those few places are left out.
          if (startsBetween(shape, bar.row(b - step), bar.row(b + step), b, y, 2 * step)) continue;
          check(here.zbb, (aft.zb - fore.zb) / (2 * step));
          check(here.zby, (aft.zy - fore.zy) / (2 * step));
          check(here.zyy, (outer.zy - inner.zy) / (2 * step));
        }
      });
    }
  }
});

type Row = ReturnType<ReturnType<typeof createUnderside>['row']>;

function startsBetween(shape: BarShape, fore: Row, aft: Row, b: number, y: number, within: number): boolean {
  const knots = [...shape.stations.map((s) => s.atMm), shape.flareZoneFrontMm, shape.lengthMm - shape.flareZoneRearMm];
  if (knots.some((k) => Math.abs(k - b) < within)) return true;
  const relieved = (row: Row, yy: number): boolean =>
    Math.abs((yy - row.middleY[0]) / row.halfWidthY[0]) > 1 - 2 * shape.reliefFraction;
  const seen = [fore, aft].flatMap((row) => [relieved(row, y - within), relieved(row, y + within)]);
  return seen.some((v) => v !== seen[0]);
}

describe('sections as DESIGN 2 defines them', () => {
  for (const [name, shape] of SHAPES) {
    it(`${name}: the chord has the station's slope to 1e-9 rad and its width to 1e-9 mm, at every station`, () => {
      for (const station of shape.stations) {
        const inner = station.spreadMm / 2;
        const outer = inner + station.widthMm * Math.cos(station.slopeRad);
        const fall = jetAt(shape, station.atMm, inner, true).z - jetAt(shape, station.atMm, outer, true).z;
        expect(Math.abs(Math.atan2(fall, outer - inner) - station.slopeRad)).toBeLessThan(1e-9);
        expect(Math.abs(Math.hypot(fall, outer - inner) - station.widthMm)).toBeLessThan(1e-9);
      }
    });

    it(`${name}: crosses its bearing line at the height of the rock's arc, exact all along`, () => {
      const bar = createUnderside(shape);
      const radius = 1 / shape.rockCurvaturePerMm;
      for (let b = 0; b <= shape.lengthMm; b += 35) {
        const row = bar.row(b);
        const u = b - shape.rockLowPointMm;
        const z = bar.heightJet(row, row.bearingY[0], createHeightJet(), true).z;
        expect(Math.abs(z - (radius - Math.sqrt(radius * radius - u * u)))).toBeLessThan(1e-9);
      }
    });

    it(`${name}: flare lifts the tip edges by its given lift and begins level`, () => {
      const bar = createUnderside(shape);
      const lift = (b: number): HeightJet => {
        const row = bar.row(b);
        const full = bar.heightJet(row, row.middleY[0], createHeightJet());
        const bare = bar.heightJet(row, row.middleY[0], createHeightJet(), true);
        return { ...full, z: full.z - bare.z, zb: full.zb - bare.zb };
      };
      expect(lift(0).z).toBeCloseTo(shape.flareLiftFrontMm, 10);
      expect(lift(shape.lengthMm).z).toBeCloseTo(shape.flareLiftRearMm, 10);
      expect(lift(shape.flareZoneFrontMm).z).toBeCloseTo(0, 12);
      expect(lift(shape.flareZoneFrontMm - 1e-6).zb).toBeCloseTo(0, 6);
      expect(lift(shape.flareZoneFrontMm / 2).z).toBeCloseTo(shape.flareLiftFrontMm / 4, 10);
    });

    it(`${name}: relief takes its depth at both edges and nothing inside its strips`, () => {
      const bar = createUnderside(shape);
      const row = bar.row(shape.lengthMm / 2);
      const relief = (t: number): number => {
        const y = row.middleY[0] + t * row.halfWidthY[0];
        return bar.heightJet(row, y, createHeightJet()).z - bar.heightJet(row, y, createHeightJet(), true).z;
      };
      for (const side of [-1, 1]) {
        expect(relief(side)).toBeCloseTo(shape.reliefDepthMm, 10);
        expect(relief(side * (1 - 2 * shape.reliefFraction))).toBeCloseTo(0, 12);
        expect(relief(side * (1 - shape.reliefFraction))).toBeCloseTo(shape.reliefDepthMm / 4, 10);
      }
    });
  }

  it('crown: every point of a section lies on a circle of the crown radius, and rises w^2/(8R) above its chord', () => {
    const radius = 450;
    const width = 150;
    const slope = 43 * RADIANS;
    const shape = plainShape({ crownCurvaturePerMm: 1 / radius, widthMm: width, slopeRad: slope, spreadMm: 162 });
    const inner = 81;
    const across = width * Math.cos(slope);
    const z0 = jetAt(shape, 250, inner).z;
    // Centre of the circle above the chord's middle, along the chord's normal.
    const up = Math.sqrt(radius * radius - (width / 2) ** 2);
    const cy = inner + across / 2 + up * Math.sin(slope);
    const cz = z0 - (width / 2) * Math.sin(slope) + up * Math.cos(slope);
    let deepest = 0;
    for (let i = 0; i <= 40; i++) {
      const y = inner + (across * i) / 40;
      const z = jetAt(shape, 250, y).z;
      expect(Math.abs(Math.hypot(y - cy, z - cz) - radius)).toBeLessThan(1e-9);
      const chord = z0 - (y - inner) * Math.tan(slope);
      deepest = Math.max(deepest, (chord - z) * Math.cos(slope));
    }
    expect(deepest).toBeLessThanOrEqual(radius - up + 1e-9);
    expect(Math.abs(deepest / ((width * width) / (8 * radius)) - 1)).toBeLessThan(0.02);
  });

  // TRADE 5: sag over the bearing length, chord^2 / (8 R), printed to 0.1 mm.
  for (const [name, bearing, sag] of [
    ['wren', 380, 15.7],
    ['post', 420, 15.2],
    ['rail', 480, 16.5],
  ] as const) {
    it(`${name}: sags ${sag} mm over ${bearing} mm of bearing line`, () => {
      const shape = demoShape(name);
      const bar = createUnderside(shape);
      const rise = (u: number): number => {
        const row = bar.row(shape.rockLowPointMm + u);
        return bar.heightJet(row, row.bearingY[0], createHeightJet(), true).z;
      };
      expect(Math.abs((rise(bearing / 2) + rise(-bearing / 2)) / 2 - sag)).toBeLessThan(0.15);
    });
  }

  it('carries the bar sideways as a whole when the spread grows: 24 mm more spread, 12 mm outward, same heights', () => {
    const narrow = demoShape('post');
    const wide = { ...narrow, stations: narrow.stations.map((s) => ({ ...s, spreadMm: s.spreadMm + 24 })) };
    const [a, b] = [createUnderside(narrow), createUnderside(wide)];
    for (const at of [60, 200, 400]) {
      const y = a.row(at).middleY[0] + 13;
      const before = a.heightJet(a.row(at), y, createHeightJet()).z;
      expect(b.heightJet(b.row(at), y + 12, createHeightJet()).z).toBeCloseTo(before, 9);
    }
  });
});

/**
 * With one section all along, z(b, y) = f(b) + g(y): the section is carried along the rock's arc without turning, a
 * translation surface, not a ring surface. At the low point f' = 0, so the station plane holds the normal and the
 * section's own curvature 1/Rc is principal; the lengthwise curve lies in a plane tilted by the section's tangent angle
 * theta, so by Meusnier its normal curvature is cos(theta)/R. A torus (VALIDATION A9) has k2 = cos(theta)/(Rr + r cos(theta)):
 * the same number there, since its parallel through the point also has radius R, but another elsewhere.
 */
describe('curvature of a bar with rock and crown', () => {
  const principal = (j: HeightJet): [number, number] => {
    const g = 1 + j.zb * j.zb + j.zy * j.zy;
    const gauss = (j.zbb * j.zyy - j.zby * j.zby) / (g * g);
    const mean = ((1 + j.zb * j.zb) * j.zyy - 2 * j.zb * j.zy * j.zby + (1 + j.zy * j.zy) * j.zbb) / (2 * g ** 1.5);
    const root = Math.sqrt(Math.max(0, mean * mean - gauss));
    return [mean - root, mean + root];
  };
  const [R, Rc, slope] = [1450, 450, 34 * RADIANS];
  const shape = plainShape({ rockCurvaturePerMm: 1 / R, crownCurvaturePerMm: 1 / Rc, slopeRad: slope });
  const bar = createUnderside(shape);

  it('principal curvatures at the low point: 1/Rc and cos(theta)/R, to 1e-9 of themselves', () => {
    for (const t of [-0.8, 0, 0.6]) {
      const row = bar.row(shape.rockLowPointMm);
      const jet = bar.heightJet(row, row.middleY[0] + t * row.halfWidthY[0], createHeightJet());
      const [low, high] = principal(jet);
      expect(low / (Math.cos(Math.atan(jet.zy)) / R)).toBeCloseTo(1, 9);
      expect(high / (1 / Rc)).toBeCloseTo(1, 9);
    }
  });

  it("the torus with the same parallel agrees there: Gauss curvature cos(theta)/(R r) at the station plane's middle", () => {
    const row = bar.row(shape.rockLowPointMm);
    const jet = bar.heightJet(row, row.middleY[0], createHeightJet());
    const cos = Math.cos(Math.atan(jet.zy));
    const ring = R - Rc * cos;
    const [low, high] = principal(jet);
    expect((low * high) / (cos / (Rc * (ring + Rc * cos)))).toBeCloseTo(1, 9);
  });

  it('without crown, away from the low point: Gauss curvature 0, a general cylinder', () => {
    const flat = createUnderside(plainShape({ rockCurvaturePerMm: 1 / R, slopeRad: slope }));
    const row = flat.row(60);
    const [low, high] = principal(flat.heightJet(row, row.middleY[0], createHeightJet()));
    expect(Math.abs(low * high)).toBeLessThan(1e-15);
    expect(high).toBeGreaterThan(0);
  });
});

describe('refusals', () => {
  const codeOf = (make: () => unknown): string => {
    try {
      make();
    } catch (error) {
      if (error instanceof InputError) return `${error.code} ${error.details.field}`;
      throw error;
    }
    return 'accepted';
  };

  it('an edge steeper than 85 degrees, a crown smaller than the bar, and a rock too tight for the bar', () => {
    expect(codeOf(() => createUnderside(plainShape({ slopeRad: 80 * RADIANS, crownCurvaturePerMm: 1 / 400 })))).toMatch(
      /^out-of-range crown/,
    );
    expect(codeOf(() => createUnderside(plainShape({ crownCurvaturePerMm: 1 / 50 })))).toMatch(/^out-of-range crown/);
    expect(codeOf(() => createUnderside(plainShape({ rockCurvaturePerMm: 1 / 260 })))).toBe('out-of-range rockRadius');
    expect(codeOf(() => createUnderside(demoShape('post')))).toBe('accepted');
  });
});
