import { describe, expect, it } from 'vitest';
import { createUnderside } from '../bar/index.ts';
import { demoPatternTree, evenBack, plainTree, scenarioSetup } from '../findings/scenario.fixture.ts';
import { addCellForces, buildBarStructure, createCellGrid, displaceCells, pressShell } from '../flex/index.ts';
import { solidAt, solidMaterial } from '../layers/index.ts';
import { measureMismatch, type Setup, seatTree } from '../seating/index.ts';
import { type GiveFigures, readGive, withBars } from './give-figures.ts';
import { giveSentences } from './give-words.ts';
import { loadedShape } from './loaded-shape.ts';
import { curvesAssumed } from './warm-up.ts';

const plastic = {
  bar: 'high density polyethylene',
  lower: 'low density polyethylene',
  tip: 'low density polyethylene',
};
const setup = scenarioSetup();
const loadOn = ({ zones }: GiveFigures, ...parts: string[]): number =>
  zones.filter(({ name }) => parts.some((part) => name.includes(part))).reduce((sum, { loadN }) => sum + loadN, 0);

/** Flat, straight and of one width: nothing stiffens a tip but its thickness. */
const flatTree = plainTree({ radiusMm: Number.POSITIVE_INFINITY, frontDeg: 30, rearDeg: 30 });

describe('TRADE 8: bars that bend', () => {
  it('14: flexible tips on a bridged tree leave the bridge, shed load to root and pad, and say so', () => {
    const tree = { ...demoPatternTree('post'), materials: plastic };
    const back = evenBack('dumpling');
    const [rigid, flexible] = (['rigid', 'flexible'] as const).map((bars) =>
      readGive(tree, back, withBars(setup, bars)),
    );
    const shape = loadedShape(seatTree(tree, back, withBars(setup, 'flexible')));
    expect(rigid!.lengthwiseMm!).toBeGreaterThan(setup.rules.lengthwiseMm);
    // Laying on does not bend a tree: the bent shape is laid on as a rigid tree of its own.
    const bent = seatTree(seatTree(tree, back, withBars(setup, 'flexible')).loaded, back, setup, { laidOn: true });
    const bentMm = measureMismatch(bent).lengthwiseLeftMm!;
    expect(bentMm).not.toBe(rigid!.lengthwiseMm);
    expect(Math.abs(bentMm - rigid!.lengthwiseMm!)).toBeLessThan(1);
    expect(Math.abs(flexible!.middleGapMm! - rigid!.middleGapMm!)).toBeLessThan(1);
    expect(loadOn(flexible!, 'tip')).toBeLessThan(loadOn(rigid!, 'tip'));
    expect(loadOn(flexible!, 'foot', 'between')).toBeGreaterThan(loadOn(rigid!, 'foot', 'between'));
    const words = giveSentences(rigid!, flexible!, shape, setup.rules.lengthwiseMm).join(' ');
    expect(words).toContain('does not fix bridging');
  });

  it('14: where no tip sheds load the words do not say that it went elsewhere', () => {
    const tree = { ...demoPatternTree('post'), materials: plastic };
    const back = evenBack('dumpling');
    const figures = readGive(tree, back, setup);
    const shape = loadedShape(seatTree(tree, back, setup));
    const [tips] = giveSentences(figures, figures, shape, setup.rules.lengthwiseMm);
    expect(tips).toContain('they shed nothing');
    expect(tips).not.toContain('carried elsewhere');
  });

  it('15: a uniform tip of 5 mm instead of 10 mm moves 8 times as far under one force, within 2 %', () => {
    const ratio = tipMoveMm(5) / tipMoveMm(10);
    expect(Math.abs(ratio / 8 - 1)).toBeLessThan(0.02);
  });

  it('15: a tip that is crowned and flared gains less than 8 times: its shape holds it too', () => {
    const post = demoPatternTree('post');
    const ratio = tipMoveMm(5, 250, post) / tipMoveMm(10, 250, post);
    expect(ratio).toBeLessThan(7);
    expect(ratio).toBeGreaterThan(5);
  });

  it('15: 20 degrees warmer every solid is softer, the tip moves further, and the assumed curve is named', () => {
    for (const name of Object.values(plastic)) {
      const material = solidMaterial(name, {}, 'materials.tip');
      const at = (temperatureC: number): number => solidAt(material, { temperatureC, hours: 0 }).alongMPa;
      expect(at(43)).toBeLessThan(at(23));
      expect(tipMoveMm(8, at(43))).toBeGreaterThan(tipMoveMm(8, at(23)));
    }
    const tree = { ...demoPatternTree('post'), materials: plastic };
    const warm: Setup = { ...setup, warmth: { ...setup.warmth, ambientC: 43 } };
    const lines = curvesAssumed(tree, warm).filter((line) => line.includes('stiffness against temperature'));
    expect(lines.some((line) => line.includes('low density polyethylene'))).toBe(true);
    const { temperatureSource } = solidMaterial(plastic.tip, {}, 'materials.tip');
    expect(lines.join(' ')).toContain(temperatureSource);
  });
});

/** Move of the middle of the front tip edge under 20 N there, all else of the bar far stiffer than the tip. */
function tipMoveMm(thicknessMm: number, modulusMPa = 250, tree = flatTree): number {
  const bar = createUnderside({
    ...tree.right.shape,
    tipThicknessMm: thicknessMm,
    tipEdgeThicknessMm: thicknessMm,
  });
  const of = (mpa: number) => ({ alongMPa: mpa, acrossMPa: mpa, shearMPa: mpa / 2.8, poisson: 0.4 });
  const elastic = { bar: of(1e6), lower: of(1e6), tip: of(modulusMPa) };
  const { patch, stiffness } = buildBarStructure(bar, tree.parts, { elastic, groundSeatNPerMm2: 0 });
  const grid = createCellGrid(patch, [0], 1, [0]);
  const forces = new Float64Array(patch.dofs);
  addCellForces(grid, Float64Array.of(0, 0, 20), 0, forces);
  const { u } = pressShell(stiffness, null, forces);
  const moved = new Float64Array(3);
  displaceCells(grid, u, moved);
  return Math.hypot(...moved);
}
