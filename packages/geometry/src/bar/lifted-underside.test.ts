import { describe, expect, it } from 'vitest';
import { seededRandom } from '../numeric/index.ts';
import { demoShape } from './demo-shapes.fixture.ts';
import { demoTree } from './demo-tree.fixture.ts';
import {
  createHeightJet,
  createUnderside,
  type HeightJet,
  liftTree,
  liftUnderside,
  measureTree,
  type Underside,
  type UndersideLift,
} from './index.ts';

/** 3 sin(b/90) + 2 t^2 cos(b/70) + t b/400: every derivative differs from nothing. */
const lift = (measured: boolean): UndersideLift => ({
  measured,
  fill(b, t, out) {
    const [s, c] = [Math.sin(b / 90), Math.cos(b / 90)];
    const [s2, c2] = [Math.sin(b / 70), Math.cos(b / 70)];
    out.v = 3 * s + 2 * t * t * c2 + (t * b) / 400;
    out.vb = (3 / 90) * c - (2 / 70) * t * t * s2 + t / 400;
    out.vt = 4 * t * c2 + b / 400;
    out.vbb = -(3 / 8100) * s - (2 / 4900) * t * t * c2;
    out.vbt = -(4 / 70) * t * s2 + 1 / 400;
    out.vtt = 4 * c2;
    return out;
  },
});
const flat = (mm: number, measured = true): UndersideLift => ({
  measured,
  fill: (_b, _t, out) => Object.assign(out, { v: mm, vb: 0, vt: 0, vbb: 0, vbt: 0, vtt: 0 }),
});

const jet = (bar: Underside, b: number, y: number, bare = false): HeightJet =>
  bar.heightJet(bar.row(b), y, createHeightJet(), bare);

describe('a lifted underside', () => {
  const shape = demoShape('post');
  const plain = createUnderside(shape);
  const knots = [...shape.stations.map((s) => s.atMm), shape.flareZoneFrontMm, shape.lengthMm - shape.flareZoneRearMm];

  it('all derivatives agree with central differences to 1e-6 in bar, tips and relief (seed 19, 200 places)', () => {
    const random = seededRandom(19);
    const bar = liftUnderside(plain, lift(true));
    const step = 1e-3;
    for (let i = 0; i < 200; i++) {
      const b = 3 + random() * (shape.lengthMm - 6);
      const row = bar.row(b);
      const t = (2 * random() - 1) * 0.98;
      const y = row.middleY[0] + t * row.halfWidthY[0];
      const reliefBegins = Math.abs(Math.abs(t) - (1 - 2 * shape.reliefFraction)) < 1e-3;
      if (reliefBegins || knots.some((k) => Math.abs(k - b) < 1)) continue;
      const here = jet(bar, b, y);
      const [fore, aft] = [jet(bar, b - step, y), jet(bar, b + step, y)];
      const [inner, outer] = [jet(bar, b, y - step), jet(bar, b, y + step)];
      const differences = {
        zb: (aft.z - fore.z) / (2 * step),
        zy: (outer.z - inner.z) / (2 * step),
        zbb: (aft.zb - fore.zb) / (2 * step),
        zby: (aft.zy - fore.zy) / (2 * step),
        zyy: (outer.zy - inner.zy) / (2 * step),
      };
      for (const [name, value] of Object.entries(differences)) {
        const got = here[name as keyof HeightJet];
        expect(Math.abs(got - value), `${name} at b ${b}, t ${t}`).toBeLessThan(1e-6 * Math.max(1, Math.abs(got)));
      }
    }
  });

  it('adds its height, also where it is measured bare, unless it is said not to be measured', () => {
    const row = plain.row(200);
    const y = row.middleY[0] + 0.5 * row.halfWidthY[0];
    const added = 3 * Math.sin(200 / 90) + 0.5 * Math.cos(200 / 70) + 0.25;
    for (const measured of [true, false]) {
      const bar = liftUnderside(plain, lift(measured));
      expect(jet(bar, 200, y).z - jet(plain, 200, y).z).toBeCloseTo(added, 12);
      expect(jet(bar, 200, y, true).z - jet(plain, 200, y, true).z).toBeCloseTo(measured ? added : 0, 12);
    }
  });

  it('lifts add up, and the bar keeps its shape and rows', () => {
    const twice = liftUnderside(liftUnderside(plain, flat(2)), flat(3));
    expect(jet(twice, 300, 120).z - jet(plain, 300, 120).z).toBeCloseTo(5, 12);
    expect(twice.shape).toBe(plain.shape);
  });

  it('an even lift of both bars changes no slope, width or rock; a shim is not measured at all', () => {
    const tree = demoTree('post');
    const figures = (of: typeof tree): unknown => {
      const { right, pairs } = measureTree(of);
      const stations = right!.stations.map(({ slopeDeg, widthMm, crownRadiusMm }) => [
        slopeDeg,
        widthMm,
        crownRadiusMm,
      ]);
      return [stations, pairs.map((p) => p.includedAngleDeg), right!.rock, right!.twistDeg, right!.lowPointMm];
    };
    const shimmed = liftTree(tree, { left: lift(false), right: lift(false) });
    const bent = liftTree(tree, { left: lift(true), right: lift(true) });
    const raised = liftTree(tree, { left: flat(4), right: flat(4) });
    expect(figures(shimmed)).toEqual(figures(tree));
    expect(figures(bent)).not.toEqual(figures(tree));
    const numbers = (value: unknown): number[] =>
      JSON.stringify(value)
        .match(/-?\d+\.?\d*(e-?\d+)?/g)!
        .map(Number);
    const before = numbers(figures(tree));
    numbers(figures(raised)).forEach((value, i) => {
      expect(Math.abs(value - before[i]!)).toBeLessThan(1e-4 * Math.max(1, Math.abs(value)));
    });
  });
});
