import { describe, expect, it } from 'vitest';
import { createHeightJet } from '../../packages/geometry/src/bar/index.ts';
import { BEAM_TESTS } from './flex-beams.fixture.ts';
import { FLEX_CASES, type FlexCase, flexCase, keptAnswer, keptFlex, undersideOf } from './flex-cases.fixture.ts';
import { ccxVersion } from './flex-ccx.fixture.ts';
import { levelOf } from './flex-make.fixture.ts';
import { solveCase, withRefinement } from './flex-model.fixture.ts';
import { shellAnswer, worstPercent } from './flex-shell.fixture.ts';

/**
 * Bending bars against kept answers of an outside finite-element program on solids cut from the bar's own shape; what was
 * modelled and by which signs stands in flex-answers.json and flex-cases.fixture.ts.
 */
const sum = (...vectors: readonly (readonly number[])[]): number[] =>
  [0, 1, 2].map((a) => vectors.reduce((total, v) => total + v[a]!, 0));
const long = (v: readonly number[]): number => Math.hypot(...v);

describe('kept answers of bending bars', () => {
  it('say which program, version and day, what was modelled and by which signs', () => {
    expect(keptFlex.provenance.program).toContain('CalculiX');
    expect(keptFlex.provenance.version).toMatch(/^\d+\.\d+/);
    expect(keptFlex.provenance.date).toMatch(/^\d{4}-\d{2}-\d{2}$/);
    for (const text of [
      keptFlex.provenance.convention,
      keptFlex.provenance.modelled,
      keptFlex.provenance.uncertainty,
    ]) {
      expect(text.length).toBeGreaterThan(50);
    }
  });

  it('are of the cases and of the shapes that the cases have now', () => {
    expect(keptFlex.answers.map((a) => a.name)).toEqual(FLEX_CASES.map((c) => c.name));
    for (const c of FLEX_CASES) {
      const { shape, places } = keptAnswer(c.name);
      expect(closeTo(shape, c.shape)).toEqual([]);
      expect(places.map((p) => [p.bMm, p.t])).toEqual(c.at.bMm.flatMap((b) => c.at.t.map((t) => [b, t])));
    }
  });

  for (const beam of BEAM_TESTS) {
    it(`${beam.name}: within ${beam.withinPercent} % of ${beam.source}`, () => {
      const kept = keptFlex.beams.find((b) => b.name === beam.name);
      expect(kept?.closedFormMm).toBeCloseTo(beam.closedFormMm, 5);
      expect(Math.abs(kept!.programMm / beam.closedFormMm - 1) * 100).toBeLessThan(beam.withinPercent);
    });
  }

  for (const c of FLEX_CASES) {
    it(`${c.name}: forces of bed, ground seat, pressure and supports cancel to a hundred-thousandth of the load`, () => {
      const { bedForceN, railForceN, pressureForceN, supportForceN } = keptAnswer(c.name);
      const left = sum(bedForceN, railForceN, pressureForceN, supportForceN);
      expect(long(left)).toBeLessThan(1e-5 * long(sum(bedForceN, pressureForceN)));
    });

    it(`${c.name}: a mesh of half as many bricks each way is within a quarter of a percent in moves and forces`, () => {
      const { refinement, mesh } = keptAnswer(c.name);
      expect(mesh.bricks).toBeGreaterThanOrEqual(4 * refinement.coarserBricks);
      expect(refinement.movePercent).toBeLessThan(0.25);
      expect(refinement.forcePercent).toBeLessThan(0.25);
    });
  }

  for (const c of FLEX_CASES.filter((each) => each.bed !== null)) {
    it(`${c.name}: part of the underside is clear, and bending takes force off the bed`, () => {
      const kept = keptAnswer(c.name);
      const squeezes = kept.places.map((p) => {
        const n = outwardNormal(c, p.bMm, p.t);
        return c.bed!.c0Mm(p.bMm) + p.u.reduce((total, x, a) => total + x * n[a]!, 0);
      });
      expect(Math.min(...squeezes)).toBeLessThan(-0.5);
      expect(Math.max(...squeezes)).toBeGreaterThan(0.5);
      expect(kept.pressedShare).toBeGreaterThan(0.2);
      expect(kept.pressedShare).toBeLessThan(0.9);
      const rigid = rigidForce(c);
      const bent = long(sum(kept.bedForceN, kept.footForceN));
      expect(bent).toBeLessThan(0.95 * long(rigid));
      expect(bent).toBeGreaterThan(0.3 * long(rigid));
    });
  }

  it('even pressure pushes with pressure times the outline in plan, upward', () => {
    for (const c of FLEX_CASES.filter((each) => each.pressureKPa > 0)) {
      let plan = 0;
      const bar = undersideOf(c);
      for (let i = 0; i < 2000; i++) plan += 2 * bar.row(((i + 0.5) * 75) / 2000).outlineHalfWidthY * (75 / 2000);
      const up = keptAnswer(c.name).pressureForceN[2]!;
      expect(Math.abs(up / ((plan * c.pressureKPa) / 1000) - 1)).toBeLessThan(0.002);
    }
  });

  it('a tip that lies flat moves square to its plane in the middle, within 2 % along its fall', () => {
    const { places } = keptAnswer('tip-pressure-flat');
    const slope = flexCase('tip-pressure-flat').shape.stations[0]!.slopeRad;
    for (const { u } of places.filter((p) => p.t === 0)) {
      const fall = u[1]! * Math.cos(slope) - u[2]! * Math.sin(slope);
      expect(Math.abs(fall)).toBeLessThan(0.02 * long(u) + 0.002);
    }
  });
});

/** How near the shell has to come in every case, percent of the longest move and of the bed's force. */
const WITHIN_PERCENT = 3;
const CASES = [
  'tip-bed-flat',
  'tip-pressure-flat',
  'tip-pressure-crown',
  'tip-bed-no-relief',
  'tip-pressure-no-relief',
  'tip-bed',
  'tip-pressure',
  'bar-bed-no-relief',
  'bar-bed',
];

describe('our shell against the kept answers', () => {
  for (const name of CASES) {
    it(`${name}: every kept move within ${WITHIN_PERCENT} % of the longest, and the bed's force within ${WITHIN_PERCENT} %`, () => {
      const kept = keptAnswer(name);
      const shell = shellAnswer(flexCase(name), kept.places);
      expect(worstPercent(shell, kept)).toBeLessThan(WITHIN_PERCENT);
      const force = sum(kept.bedForceN, kept.footForceN);
      const apart = long(shell.bedForceN.map((x, a) => x - force[a]!));
      expect(apart).toBeLessThanOrEqual((WITHIN_PERCENT / 100) * long(force));
    });
  }
});

const rerun = process.env.BARWRIGHT_CCX === '1';

describe('the outside program again, where BARWRIGHT_CCX is 1', () => {
  it('is there, or it is said that nothing was run', () => {
    if (!rerun) console.warn('BARWRIGHT_CCX is not 1: the outside finite-element program was not run again.');
    expect(rerun ? ccxVersion() : null).toEqual(rerun ? expect.stringMatching(/^\d+\.\d+/) : null);
  });

  for (const beam of rerun ? BEAM_TESTS : []) {
    it(`${beam.name}: the kept answer comes out again`, () => {
      expect(beam.solveMm()).toBeCloseTo(keptFlex.beams.find((b) => b.name === beam.name)!.programMm, 4);
    });
  }

  for (const c of rerun ? FLEX_CASES : []) {
    it(`${c.name}: the coarser mesh is as far from the kept answer as was kept`, () => {
      const kept = keptAnswer(c.name);
      const again = withRefinement(kept, solveCase(c, levelOf(c.name) - 1)).refinement;
      expect(again.coarserBricks).toBe(kept.refinement.coarserBricks);
      expect(again.movePercent).toBeCloseTo(kept.refinement.movePercent, 3);
      expect(again.forcePercent).toBeCloseTo(kept.refinement.forcePercent, 3);
    });
  }
});

function outwardNormal(c: FlexCase, b: number, t: number): number[] {
  const bar = undersideOf(c);
  const row = bar.row(b);
  const jet = bar.heightJet(row, row.middleY[0] + t * row.outlineHalfWidthY, createHeightJet());
  return [jet.zb, jet.zy, -1].map((x) => x / Math.hypot(jet.zb, jet.zy, 1));
}

/** The bed's force on a bar that does not bend, over what the case loads: midpoint rule, N. */
function rigidForce(c: FlexCase): number[] {
  const bar = undersideOf(c);
  const force = [0, 0, 0];
  const lengthMm = c.spans[c.spans.length - 1]!.toMm;
  const [rows, columns] = [400, 40];
  for (let i = 0; i < rows; i++) {
    const b = ((i + 0.5) * lengthMm) / rows;
    const row = bar.row(b);
    const push =
      (c.bed!.nPerMm3 * Math.max(0, c.bed!.c0Mm(b)) * 2 * row.outlineHalfWidthY * lengthMm) / (rows * columns);
    for (let j = 0; j < columns; j++) {
      const y = row.middleY[0] + (-1 + (2 * j + 1) / columns) * row.outlineHalfWidthY;
      const jet = bar.heightJet(row, y, createHeightJet());
      [jet.zb, jet.zy, -1].forEach((n, a) => {
        force[a]! -= push * n;
      });
    }
  }
  return force;
}

/** Paths at which two plain documents differ by more than the kept digits. */
function closeTo(kept: unknown, now: unknown, path = ''): string[] {
  if (typeof kept === 'number' && typeof now === 'number') {
    return Math.abs(kept - now) <= 1e-6 * Math.max(1, Math.abs(now)) ? [] : [`${path}: ${kept} was ${now}`];
  }
  if (typeof kept === 'object' && kept !== null && typeof now === 'object' && now !== null) {
    const keys = new Set([...Object.keys(kept), ...Object.keys(now)]);
    const at = (from: object, key: string): unknown => (from as Record<string, unknown>)[key];
    return [...keys].flatMap((key) => closeTo(at(kept, key), at(now, key), `${path}/${key}`));
  }
  return kept === now ? [] : [path];
}
