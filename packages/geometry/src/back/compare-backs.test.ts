import { describe, expect, it } from 'vitest';
import type { BackSurface } from './back-surface.ts';
import { buildSectionsBack } from './build-sections-back.ts';
import { type CompareBacksOptions, type CompareRow, compareBacks } from './compare-backs.ts';
import { demoBack } from './demo-backs.fixture.ts';
import type { SectionsBackDocument } from './sections-schema.ts';

const careful = { by: 'Quillback Lane bench', on: '2026-04-14', uncertaintyMm: 1, uncertaintyDeg: 0.5 };
const later = { ...careful, on: '2026-09-01' };

/** Dumpling without sides of its own; `left` adds the muscle. */
const dumpling = (leftMm: number, measured: SectionsBackDocument['measured']): BackSurface => {
  const doc = demoBack('dumpling');
  const left = { slopeDeg: 0, liftMm: leftMm, fromMm: 0, toMm: 200, rampMm: 80 };
  return buildSectionsBack({ ...doc, asymmetry: { left, right: null }, measured });
};

/** The same back carried a little: heights of a rigid motion, for the aligner to undo. Exact by iteration. */
function carried(
  back: BackSurface,
  dx: number,
  dy: number,
  dz: number,
  pitchDeg: number,
  rollDeg: number,
): BackSurface {
  const [p, r] = [(pitchDeg * Math.PI) / 180, (rollDeg * Math.PI) / 180];
  const heightMm = (x: number, y: number): number => {
    let z = back.heightMm(x, y);
    for (let i = 0; i < 12; i++) {
      // Undo shift, then roll about x and pitch about y through (middle, 0, 0).
      const [u, v, w] = [x - dx - 215, y - dy, z - dz];
      const [v1, w1] = [Math.cos(r) * v + Math.sin(r) * w, -Math.sin(r) * v + Math.cos(r) * w];
      const [u2, w2] = [Math.cos(p) * u - Math.sin(p) * w1, Math.sin(p) * u + Math.cos(p) * w1];
      z += back.heightMm(u2 + 215, v1) - w2;
    }
    return z;
  };
  return Object.create(back, { heightMm: { value: heightMm } }) as BackSurface;
}

const inMuscle = ({ xMm, yMm }: CompareRow): boolean => yMm <= -120 && xMm >= 40 && xMm <= 160;
const mean = (rows: readonly CompareRow[]): number => rows.reduce((sum, r) => sum + r.differenceMm, 0) / rows.length;
const run = (a: BackSurface, b: BackSurface, align: CompareBacksOptions['align']) => compareBacks(a, b, { align });

describe('compareBacks', () => {
  it.each(['landmarks', 'best fit'] as const)('a back with itself, by %s: nothing, and says so', (align) => {
    const back = dumpling(0, careful);
    const { rows, sentences, motion } = run(back, back, align);
    expect(Math.max(...rows.map((row) => Math.abs(row.differenceMm)))).toBeLessThan(1e-9);
    expect(sentences.join(' ')).toMatch(/can't tell from these measurements/);
    expect(Math.hypot(motion.backwardMm, motion.rightMm, motion.upMm, motion.pitchDeg, motion.rollDeg)).toBeLessThan(
      1e-9,
    );
    expect(rows.length).toBe(44 * 41);
  });

  it.each(['landmarks', 'best fit'] as const)(
    '4 mm more muscle on the left is found by %s within its limit',
    (align) => {
      const { rows, regions, sentences } = run(dumpling(0, careful), dumpling(4, later), align);
      // z = 0 lies at the low point of the bearing lines, which the muscle raises on one side: the whole frame sinks with it.
      const [plain, grown] = [dumpling(0, careful), dumpling(4, later)];
      const sunk = grown.heightMm(400, 120) - plain.heightMm(400, 120);
      expect(sunk).toBeGreaterThan(-2);
      const muscle = rows.filter(inMuscle);
      for (const { xMm, yMm } of muscle) {
        expect(grown.heightMm(xMm, yMm) - plain.heightMm(xMm, yMm) - sunk).toBeCloseTo(4, 6);
      }
      const limit = muscle.reduce((max, row) => Math.max(max, row.limitMm), 0);
      expect(limit).toBeLessThan(2);
      if (align === 'best fit') expect(Math.abs(mean(muscle) - 4)).toBeLessThan(0.3);
      else expect(mean(muscle)).toBeCloseTo(4 + sunk, 6);
      for (const row of muscle) expect(Math.abs(row.differenceMm - 4)).toBeLessThan(row.limitMm);
      for (const row of rows.filter((r) => r.yMm > 0)) expect(Math.abs(row.differenceMm)).toBeLessThan(row.limitMm);
      expect(sentences.join(' ')).toMatch(/front third on the left is \d\.\d mm fuller/);
      expect(sentences.join(' ')).not.toMatch(/on the right/);
      expect(regions.map(({ side, third }) => `${side} ${third}`)).toHaveLength(6);
    },
  );

  it('with errors of 3 mm and 2 degrees, 4 mm can not be told', () => {
    const rough = { uncertaintyMm: 3, uncertaintyDeg: 2 };
    const { rows, sentences } = run(
      dumpling(0, { ...careful, ...rough }),
      dumpling(4, { ...later, ...rough }),
      'best fit',
    );
    expect(rows.find(({ xMm, yMm }) => xMm === 100 && yMm === -120)!.limitMm).toBeCloseTo(3 * Math.SQRT2, 9);
    expect(sentences.join(' ')).toMatch(/can't tell from these measurements/);
  });

  it('best fit undoes a landmark error of some millimetres and degrees; by landmarks it shows as a change', () => {
    const [before, after] = [dumpling(0, careful), carried(dumpling(4, later), 6, -4, 3, 1.2, -0.8)];
    const { rows, motion } = run(before, after, 'best fit');
    expect(motion.atBound).toBe(false);
    expect(motion.rollDeg).toBeCloseTo(0.8, 0);
    expect(motion.pitchDeg).toBeCloseTo(-1.2, 0);
    expect(Math.abs(mean(rows.filter(inMuscle)) - 4)).toBeLessThan(0.8);
    const right = rows.filter(({ yMm }) => yMm > 0);
    expect(Math.max(...right.map((row) => Math.abs(row.differenceMm)))).toBeLessThan(1);
    const marked = run(before, after, 'landmarks').rows.filter(({ yMm }) => yMm > 0);
    expect(Math.max(...marked.map((row) => Math.abs(row.differenceMm)))).toBeGreaterThan(3);
  });

  it('a keep-out leaves the changed part out of the fit, even where it is most of the back', () => {
    const raised = (x: number, y: number): number => (y < 40 ? 9 + 0.01 * x : 0);
    const before = dumpling(0, careful);
    const after = Object.create(before, {
      heightMm: { value: (x: number, y: number) => before.heightMm(x, y) + raised(x, y) },
    }) as BackSurface;
    const keepOut = [{ fromXMm: -100, toXMm: 700, fromYMm: -300, toYMm: 45 }];
    const { rows } = compareBacks(before, after, { align: 'best fit', keepOut });
    for (const row of rows) expect(Math.abs(row.differenceMm - raised(row.xMm, row.yMm))).toBeLessThan(0.01);
  });

  it('different horses come to rest at the bound or far apart, and a gap in the data is counted', () => {
    const heron = buildSectionsBack({ ...demoBack('heron'), measured: later });
    const { motion } = run(dumpling(0, careful), heron, 'best fit');
    expect(motion.atBound || motion.residualMm > 2).toBe(true);
    const holed = Object.create(heron, {
      heightMm: { value: (x: number, y: number) => (x > 200 && x < 300 ? Number.NaN : heron.heightMm(x, y)) },
    }) as BackSurface;
    const { sentences, rows } = run(heron, holed, 'landmarks');
    expect(sentences.join(' ')).toMatch(/\d+ % of the grid has no data/);
    expect(rows.filter((row) => Number.isNaN(row.differenceMm)).length).toBe(9 * 41);
  });
});
