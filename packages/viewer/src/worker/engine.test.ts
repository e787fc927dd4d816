import { type PatternDocument, SETUP_DEFAULTS, setPatternValue } from '@barwright/geometry';
import { beforeAll, describe, expect, test } from 'vitest';
import type { CutBar, FitView } from '../contract.ts';
import { demoBack, FIRST_DOCUMENTS } from '../files/demos.ts';
import { exaggerate } from '../scene/build/exaggerate.ts';
import { buffersOf } from './buffers.ts';
import { createEngine } from './engine.ts';
import type { Inputs } from './inputs.ts';

const setup = { ...SETUP_DEFAULTS, samples: 2000 };
const inputs = (version: number, pattern: PatternDocument, backName: string, backId: number): Inputs => ({
  version,
  pattern,
  setup,
  backId,
  back: demoBack(backName)!,
});

describe('Post on Dumpling', () => {
  const engine = createEngine();
  const { pattern } = FIRST_DOCUMENTS;
  let fit: FitView;
  beforeAll(() => {
    fit = engine.figures(inputs(1, pattern, 'dumpling', 1));
  });

  test('the drawn cells carry the load: pressure over their areas comes to the rider and saddle', () => {
    expect(fit.result.status).toBe('settled');
    let lifted = 0;
    for (const side of ['left', 'right'] as const) {
      const { rows, columns, positions, pressureKPa, bearing } = fit.bars[side];
      for (let i = 0; i < rows; i++) {
        for (let j = 0; j < columns; j++) {
          // Plan area of a cell from its neighbours; pressure acts nearly along the cell's normal, so plan area times
          // pressure is the upward force.
          const at = (r: number, c: number): number => 3 * (r * columns + c);
          const [ahead, behind] = [Math.max(0, i - 1), Math.min(rows - 1, i + 1)];
          const [inner, outer] = [Math.max(0, j - 1), Math.min(columns - 1, j + 1)];
          const dx = (positions[at(behind, j)]! - positions[at(ahead, j)]!) / (behind - ahead);
          const dy = Math.abs(positions[at(i, outer) + 1]! - positions[at(i, inner) + 1]!) / (outer - inner);
          const k = i * columns + j;
          lifted += pressureKPa[k]! * 1e-3 * dx * dy * bearing[k]!;
        }
      }
    }
    // Bar and back differ in slope by up to 11 degrees here: the force leans by that much, 2 % at the most.
    expect(lifted / fit.result.load.appliedN).toBeGreaterThan(0.95);
    expect(lifted / fit.result.load.appliedN).toBeLessThan(1.05);
  });

  test('the smallest and largest gap drawn are those of the figures', () => {
    const gaps = [...fit.bars.left.gapMm, ...fit.bars.right.gapMm].filter((gap) => !Number.isNaN(gap));
    expect(Math.min(...gaps)).toBeCloseTo(fit.result.gap.minMm!, 3);
    expect(Math.max(...gaps)).toBeCloseTo(fit.result.gap.maxMm!, 3);
  });

  test('the upper side lies above the underside by the thickness of the pattern in the middle of the bar', () => {
    const { rows, columns, positions, topPositions } = fit.bars.right;
    const k = 3 * ((rows >> 1) * columns + (columns >> 1));
    const thick = Math.hypot(...[0, 1, 2].map((c) => topPositions[k + c]! - positions[k + c]!));
    expect(topPositions[k + 2]! - positions[k + 2]!).toBeGreaterThan(0);
    expect(thick).toBeCloseTo(24, 0);
  });

  test('the slot is left open in the cells and nowhere else inside', () => {
    const { bearing } = fit.bars.left;
    const open = bearing.filter((share) => share < 0.5).length;
    expect(open).toBeGreaterThan(0);
    expect(open / bearing.length).toBeLessThan(0.03);
  });

  test('the first answer of a drag has the bars of the full one, within a thousandth of a millimetre', () => {
    const changed = setPatternValue(pattern, 'slopeFront', 40);
    const quick = engine.bars(inputs(2, changed, 'dumpling', 1));
    const slow = createEngine().figures(inputs(2, changed, 'dumpling', 1));
    let worst = 0;
    quick.bars.right.gapMm.forEach((gap, i) => {
      worst = Math.max(worst, Math.abs(gap - slow.bars.right.gapMm[i]!));
    });
    expect(worst).toBeLessThan(1e-3);
  });

  test('everything handed over owns its buffers: what goes to the page leaves nothing broken behind', () => {
    const first = engine.figures(inputs(3, pattern, 'dumpling', 1));
    const buffers = buffersOf(first);
    expect(buffers.length).toBeGreaterThan(30);
    structuredClone(first, { transfer: buffers });
    expect(engine.figures(inputs(4, pattern, 'dumpling', 1)).result.contact.areaCm2).toBeCloseTo(
      fit.result.contact.areaCm2,
      1,
    );
  });
});

describe('flexible bars', () => {
  const { pattern } = FIRST_DOCUMENTS;
  const flexible = { ...setup, flex: { ...setup.flex, bars: 'flexible' as const } };
  const bending = (version: number, of: PatternDocument): Inputs => ({
    ...inputs(version, of, 'dumpling', 1),
    setup: flexible,
  });

  test('a drag that starts where the bars last stood bent comes to what a fresh start does', () => {
    const engine = createEngine();
    engine.figures(bending(1, pattern));
    const changed = setPatternValue(pattern, 'flareLiftFront', 10);
    const dragged = engine.figures(bending(2, changed));
    const fresh = createEngine().figures(bending(2, changed));
    for (const side of ['left', 'right'] as const) {
      let worst = 0;
      dragged.bars[side].positions.forEach((p, i) => {
        worst = Math.max(worst, Math.abs(p - fresh.bars[side].positions[i]!));
      });
      expect(worst).toBeLessThan(2e-3);
    }
    expect(dragged.result.flex!.bars[0].tips[0].moveMm).toBeCloseTo(fresh.result.flex!.bars[0].tips[0].moveMm, 3);
  });

  test('while the hand moves bars are seated quickly and near, and never taken for the result', () => {
    const engine = createEngine();
    const lifted = (version: number, liftMm: number): Inputs => ({
      ...bending(version, setPatternValue(pattern, 'flareLiftFront', liftMm)),
      setup: { ...flexible, samples: 10_000 },
    });
    engine.figures(lifted(1, 18));
    for (let step = 1; step <= 3; step++) engine.bars(lifted(1 + step, 18 - 2 * step));
    const [passing, result] = [engine.bars(lifted(5, 10)), engine.figures(lifted(5, 10))];
    expect([passing.isPassing, result.isPassing]).toEqual([true, false]);
    expect(passing.bars.left.positions.length).toBeLessThan(result.bars.left.positions.length);
    // In the middle of the bar, where both have a cell near the same place.
    const bendOf = ({ giveMm, rows, columns }: (typeof passing)['bars']['left']): number =>
      giveMm[Math.floor(rows / 20) * columns + Math.floor(columns / 2)]!;
    expect(bendOf(passing.bars.left) / bendOf(result.bars.left)).toBeCloseTo(1, 0);
    const rigid = engine.bars(inputs(6, pattern, 'dumpling', 1));
    expect(rigid.isPassing).toBe(false);
    expect(rigid.bars.left.bentMm).toBeNull();
  });

  test('give as drawn is the figures’ move of the tip edge, and is nothing for rigid bars', () => {
    const engine = createEngine();
    const bent = engine.figures(bending(1, pattern));
    for (const [which, side] of (['left', 'right'] as const).entries()) {
      const { giveMm, columns } = bent.bars[side];
      const [front, rear] = bent.result.flex!.bars[which]!.tips;
      const middle = Math.floor(columns / 2);
      expect(giveMm[middle]).toBeCloseTo(front.moveMm, 4);
      expect(giveMm[giveMm.length - columns + middle]).toBeCloseTo(rear.moveMm, 4);
    }
    const { bars } = engine.figures(inputs(2, pattern, 'dumpling', 1));
    expect(bars.left.bentMm).toBeNull();
    expect(bars.left.giveMm.every((mm) => mm === 0)).toBe(true);
  });

  test('drawn twice over, a bar stands twice as far from where it would stand unbent, and its values stay', () => {
    const { bars } = createEngine().figures(bending(1, pattern));
    const twice = exaggerate(bars.left, 2);
    for (const i of [0, 100, 500]) {
      const unbent = bars.left.positions[i]! - bars.left.bentMm![i]!;
      expect(twice.positions[i]! - unbent).toBeCloseTo(2 * bars.left.bentMm![i]!, 3);
    }
    expect(twice.gapMm).toBe(bars.left.gapMm);
    expect(exaggerate(bars.left, 1)).toBe(bars.left);
  });
});

describe('station cut', () => {
  const engine = createEngine();
  beforeAll(() => {
    engine.figures(inputs(1, FIRST_DOCUMENTS.pattern, 'tuesday', 1));
  });

  test('slopes at the front station are those of the bar within its roll and pitch', () => {
    const cut = engine.cut(-30 + 0.2 * 560)!;
    const { left, right } = cut as { left: CutBar; right: CutBar };
    expect((left.barSlopeDeg + right.barSlopeDeg) / 2).toBeCloseTo(43, 0);
    expect(left.bMm).toBeCloseTo(112, 0);
  });

  test('both bars lie on their own side, inner edge first, underside above the back by pad and gap', () => {
    const { left, right, back } = engine.cut(200)!;
    expect(left!.underside[0]).toBeLessThan(0);
    expect(right!.underside[0]).toBeGreaterThan(0);
    expect(Math.abs(right!.underside[0]!)).toBeLessThan(Math.abs(right!.underside[right!.underside.length - 2]!));
    const middle = right!.underside.length / 2 - 1;
    const y = right!.underside[middle]!;
    const at = Math.round((y + 240) / 4);
    const vertical = right!.underside[middle + 1]! - back[2 * at + 1]!;
    const distance = right!.gapMiddleMm! + 20;
    // The back slopes here by 20 to 40 degrees, and the nearest grid point is up to 2 mm away.
    expect(vertical).toBeGreaterThan(distance - 2);
    expect(vertical).toBeLessThan(distance / Math.cos(0.75) + 2);
  });

  test('ahead of and behind the bars there is a back and no bar', () => {
    expect(engine.cut(-60)).toMatchObject({ left: null, right: null });
    expect(engine.cut(560)).toMatchObject({ left: null, right: null });
    expect(Number.isNaN(engine.cut(-60)!.back[120]!)).toBe(false);
  });
});

describe('backs', () => {
  test('the last three are known by their number; a fourth pushes the first out', () => {
    const engine = createEngine();
    const { pattern } = FIRST_DOCUMENTS;
    engine.back(inputs(1, pattern, 'dumpling', 1));
    engine.back(inputs(2, pattern, 'heron', 2));
    engine.back(inputs(3, pattern, 'tuesday', 3));
    const { back: _, ...known } = inputs(4, pattern, 'dumpling', 1);
    expect(engine.back(known).name).toBe('Dumpling');
    engine.back(inputs(5, pattern, 'heron', 4));
    expect(() => engine.back(known)).toThrow('never sent');
  });

  test('a foreleg forward moves its blade edge and lifts the drawn back there', () => {
    const engine = createEngine();
    const standing = engine.back(inputs(1, FIRST_DOCUMENTS.pattern, 'dumpling', 1));
    const forward = engine.back({
      ...inputs(2, FIRST_DOCUMENTS.pattern, 'dumpling', 1),
      setup: { ...setup, legForward: 'left' },
    });
    expect(forward.landmarks.bladeEdgeLeft[0]).toBe(45);
    expect(forward.landmarks.bladeEdgeRight[0]).toBe(0);
    expect(forward.usable.fromXMm).toBe(45);
    let risen = 0;
    forward.positions.forEach((v, i) => {
      if (i % 3 === 2) risen = Math.max(risen, v - standing.positions[i]!);
    });
    expect(risen).toBeGreaterThan(8);
  });
});
