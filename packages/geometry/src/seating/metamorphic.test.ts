import { describe, expect, it } from 'vitest';
import { STANDING } from '../back/blades.ts';
import { buildSectionsBack } from '../back/build-sections-back.ts';
import { type DemoBack, demoBack } from '../back/demo-backs.fixture.ts';
import type { SectionsBackDocument } from '../back/sections-schema.ts';
import { demoShape } from '../bar/demo-shapes.fixture.ts';
import { demoTree, treeOf } from '../bar/demo-tree.fixture.ts';
import { sampleBars } from '../bar/index.ts';
import { rotationOf } from '../numeric/index.ts';
import { movedField, torusField, torusHeight } from './analytic-fields.fixture.ts';
import { contactForce, ORIGIN, patchBody, weight } from './bodies.fixture.ts';
import { contactFigures } from './contact-figures.ts';
import { foundation } from './foundation.fixture.ts';
import { gapFigures } from './gap-figures.ts';
import { seatBody } from './seat.ts';
import { type SeatedTree, seatTree } from './seat-tree.ts';
import { SETUP_DEFAULTS, type Setup } from './setup-schema.ts';

/** Checks that need no outside answer: VALIDATION A10. */
const setupOf = (over: Partial<Setup> = {}, load: Partial<Setup['load']> = {}): Setup => ({
  ...SETUP_DEFAULTS,
  samples: 1200,
  ...over,
  load: { ...SETUP_DEFAULTS.load, ...load },
});

const RING = 1000;
const TUBE = 300;
const saddle = (s = 1) =>
  patchBody({
    lengthMm: 400 * s,
    widthMm: 120 * s,
    nx: 31,
    ny: 11,
    at: [0, 80 * s],
    heightMm: (x, y) => torusHeight(1400 * s, 330 * s, x, y),
  });
const START = { ...ORIGIN, zMm: 5 };

describe('moving the whole scene', () => {
  it('turned about z and shifted: same heights, tilts, pressures and energy (1e-9)', () => {
    const body = saddle();
    const [stack, load] = [foundation(0.002, 20), weight(600, 40, 75, 150)];
    const here = seatBody(body, torusField(RING, TUBE), stack, [load], START, { tolerance: 1e-12 });
    for (const [yawRad, shift] of [
      [0.7, [30, -20, 45]],
      [-2.1, [-300, 120, -60]],
    ] as const) {
      const field = movedField(torusField(RING, TUBE), rotationOf({ rollRad: 0, pitchRad: 0, yawRad }), shift);
      const start = { ...START, xMm: shift[0], yMm: shift[1], zMm: START.zMm + shift[2], yawRad };
      const there = seatBody(body, field, stack, [load], start, { tolerance: 1e-12 });
      expect(there.status).toBe('settled');
      expect(Math.abs(there.pose.zMm - shift[2] - here.pose.zMm)).toBeLessThan(1e-9);
      expect(Math.abs(there.pose.pitchRad - here.pose.pitchRad)).toBeLessThan(1e-11);
      expect(Math.abs(there.pose.rollRad - here.pose.rollRad)).toBeLessThan(1e-11);
      for (let i = 0; i < body.count; i++) {
        expect(Math.abs(there.pressureMPa[i] - here.pressureMPa[i])).toBeLessThan(1e-11);
      }
    }
  });

  it('turned any way with the body in it: the same distances, so the same pressures and total force turned along', () => {
    const body = saddle();
    const angles = { rollRad: 0.3, pitchRad: -0.5, yawRad: 1.1 };
    const r = rotationOf(angles);
    const field = movedField(torusField(RING, TUBE), r, [10, -20, 30]);
    const stack = foundation(0.002, 12);
    const here = seatBody(body, torusField(RING, TUBE), stack, [], { ...ORIGIN }, { free: [] });
    const there = seatBody(body, field, stack, [], { xMm: 10, yMm: -20, zMm: 30, ...angles }, { free: [] });
    const f = contactForce(body, here);
    const g = contactForce(body, there);
    for (let a = 0; a < 3; a++)
      expect(g[a]).toBeCloseTo(r[3 * a] * f[0] + r[3 * a + 1] * f[1] + r[3 * a + 2] * f[2], 8);
    expect(there.equilibrium.energy).toBeCloseTo(here.equilibrium.energy, 7);
  });
});

describe('scale', () => {
  it('lengths x s, forces x s^2, stiffness / s: the same pressures and tilts, areas x s^2 (1e-9)', () => {
    const at = (s: number) =>
      seatBody(
        saddle(s),
        torusField(RING * s, TUBE * s),
        foundation(0.002 / s, 20 * s),
        [weight(600 * s * s, 40 * s, 75 * s, 150 * s)],
        { ...START, zMm: 5 * s },
        { tolerance: 1e-12 },
      );
    const one = at(1);
    for (const s of [0.5, 2]) {
      const other = at(s);
      expect(other.status).toBe('settled');
      expect(Math.abs(other.pose.zMm / s - one.pose.zMm)).toBeLessThan(1e-8);
      expect(Math.abs(other.pose.pitchRad - one.pose.pitchRad)).toBeLessThan(1e-10);
      for (let i = 0; i < one.pressureMPa.length; i++) {
        expect(Math.abs(other.pressureMPa[i] - one.pressureMPa[i])).toBeLessThan(1e-10);
      }
    }
  });
});

describe('mirror', () => {
  const mirrored = (doc: SectionsBackDocument): SectionsBackDocument => ({
    ...doc,
    asymmetry: { left: doc.asymmetry.right, right: doc.asymmetry.left },
    bladeBulge: { left: doc.bladeBulge.right, right: doc.bladeBulge.left },
    hollow: { left: doc.hollow.right, right: doc.hollow.left },
  });
  const post = demoShape('post');
  const flatter = { ...post, stations: post.stations.map((s) => ({ ...s, slopeRad: s.slopeRad - 0.05 })) };

  for (const name of ['heron', 'dumpling'] as const) {
    it(`${name} with unequal bars, mirrored: left and right figures change places, roll and shift change sign (1e-6)`, () => {
      const doc = demoBack(name);
      const load = { offsetMm: 14 };
      const a = seatTree(treeOf(post, flatter), buildSectionsBack(doc), setupOf({ shiftMm: 4, yawDeg: 1 }, load));
      const b = seatTree(
        treeOf(flatter, post),
        buildSectionsBack(mirrored(doc)),
        setupOf({ shiftMm: -4, yawDeg: -1 }, { offsetMm: -14 }),
      );
      const [fa, fb] = [contactFigures(a), contactFigures(b)];
      expect(a.status).toBe('settled');
      expect(b.seat.pose.rollRad).toBeCloseTo(-a.seat.pose.rollRad, 7);
      expect(b.seat.pose.pitchRad).toBeCloseTo(a.seat.pose.pitchRad, 7);
      expect(b.seat.pose.zMm).toBeCloseTo(a.seat.pose.zMm, 5);
      expect(fb.shareLeft).toBeCloseTo(fa.shareRight, 6);
      expect(Math.abs(fb.areaLeftCm2 - fa.areaRightCm2)).toBeLessThan(1e-6);
      expect(fb.peakPressureKPa).toBeCloseTo(fa.peakPressureKPa, 4);
      expect(fb.centreOfPressureYMm).toBeCloseTo(-fa.centreOfPressureYMm!, 4);
      expect(Math.abs(fa.shareLeft - fa.shareRight)).toBeGreaterThan(0.02);
    });
  }
});

describe('signs and sums on the demo backs', () => {
  const seats = new Map<string, SeatedTree>();
  const seated = (name: DemoBack, riderKg = 80): SeatedTree => {
    const key = `${name} ${riderKg}`;
    const known =
      seats.get(key) ?? seatTree(demoTree('post'), buildSectionsBack(demoBack(name)), setupOf({}, { riderKg }));
    seats.set(key, known);
    return known;
  };

  for (const name of ['dumpling', 'heron', 'tuesday'] as const) {
    it(`${name}: p >= 0, and p x daylight = 0 in every cell`, () => {
      const { seat, samples, stack } = seated(name);
      for (let i = 0; i < samples.count; i++) {
        if (seat.mask[i] === 0) continue;
        const gap = seat.rows.distanceMm[i] - stack.thicknessMm;
        expect(seat.pressureMPa[i]).toBeGreaterThanOrEqual(0);
        if (gap > 0) expect(seat.pressureMPa[i]).toBe(0);
        else expect(seat.pressureMPa[i]).toBeCloseTo(-gap * stack.stiffness, 12);
      }
    });

    it(`${name}: shares add to 1, thirds and sides add to the whole, figures lie within each other`, () => {
      const f = contactFigures(seated(name));
      expect(f.shareFront + f.shareMiddle + f.shareRear).toBeCloseTo(1, 9);
      expect(f.shareLeft + f.shareRight).toBeCloseTo(1, 9);
      expect(f.areaLeftCm2 + f.areaRightCm2).toBeCloseTo(f.areaCm2, 9);
      expect(f.areaByThirdCm2[0] + f.areaByThirdCm2[1] + f.areaByThirdCm2[2]).toBeCloseTo(f.areaCm2, 9);
      expect(f.coreAreaCm2).toBeLessThan(f.areaCm2);
      expect(f.meanPressureKPa).toBeLessThan(f.p95PressureKPa);
      expect(f.fraction).toBeLessThanOrEqual(1);
      const g = gapFigures(seated(name));
      expect(g.minMm).toBeLessThan(g.meanMm!);
      expect(g.meanMm).toBeLessThan(g.maxMm!);
    });

    it(`${name}: contact area grows with the load at fixed tilt (height alone free)`, () => {
      const { tree, back, seat, loads, stack } = seated(name);
      const samples = sampleBars(tree.left, tree.right, { samples: 3000 });
      let before = 0;
      for (const newtons of [50, 150, 400, 900, 2000, 5000]) {
        const pressed = seatBody(samples, back.fast, stack, [{ ...loads[0], forceN: [0, 0, -newtons] }], seat.pose, {
          free: ['z'],
        });
        let area = 0;
        for (let i = 0; i < samples.count; i++) if (pressed.pressureMPa[i] > 0) area += samples.areaMm2[i];
        expect(area).toBeGreaterThanOrEqual(before);
        before = area;
      }
      expect(before).toBeGreaterThan(0);
    });
  }

  it('refining the cells: contact area and mean pressure of order about 1 or better, 1 % from 2,500 to 10,000 cells', () => {
    const { tree, back } = seated('tuesday');
    const figures = [2500, 10_000].map((samples) => contactFigures(seatTree(tree, back, setupOf({ samples }))));
    expect(Math.abs(figures[0].areaCm2 / figures[1].areaCm2 - 1)).toBeLessThan(0.01);
    expect(Math.abs(figures[0].meanPressureKPa / figures[1].meanPressureKPa - 1)).toBeLessThan(0.01);
  });

  it('scenario 17: load moved from 40 to 60 %: front share falls, rear share rises, tree pitches back, all the way', () => {
    const back = buildSectionsBack(demoBack('tuesday'));
    const runs = [40, 45, 50, 55, 60].map((at) => seatTree(demoTree('post'), back, setupOf({}, { at })));
    const figures = runs.map(contactFigures);
    for (let i = 1; i < runs.length; i++) {
      expect(figures[i].shareFront).toBeLessThan(figures[i - 1].shareFront);
      expect(figures[i].shareRear).toBeGreaterThan(figures[i - 1].shareRear);
      expect(runs[i].seat.pose.pitchRad).toBeGreaterThan(runs[i - 1].seat.pose.pitchRad);
    }
  });

  it('scenario 16: 60, 95 and 160 kg: mean pressure rises less than in proportion, area rises', () => {
    const figures = [60, 95, 160].map((kg) => contactFigures(seated('tuesday', kg)));
    for (let i = 1; i < figures.length; i++) {
      expect(figures[i].areaCm2).toBeGreaterThan(figures[i - 1].areaCm2);
      expect(figures[i].meanPressureKPa).toBeGreaterThan(figures[i - 1].meanPressureKPa);
    }
    expect(figures[2].meanPressureKPa / figures[0].meanPressureKPa).toBeLessThan((160 + 15) / (60 + 15));
  });

  it('scenario 26: going back to the first value brings back every number, bit for bit', () => {
    const doc = demoBack('heron');
    const once = seatTree(demoTree('post'), buildSectionsBack(doc), setupOf());
    seatTree(demoTree('rail'), buildSectionsBack(doc, { leftMm: 60, rightMm: 0 }), setupOf({ shiftMm: 8 }));
    const again = seatTree(demoTree('post'), buildSectionsBack(demoBack('heron'), STANDING), setupOf());
    expect(again.seat.pose).toEqual(once.seat.pose);
    expect(again.seat.pressureMPa).toEqual(once.seat.pressureMPa);
    expect(contactFigures(again)).toEqual(contactFigures(once));
  });
});
