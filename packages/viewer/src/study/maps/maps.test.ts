import { CORE_FROM, SETUP_DEFAULTS } from '@barwright/geometry';
import { describe, expect, test } from 'vitest';
import { demoBack, FIRST_DOCUMENTS } from '../../files/demos.ts';
import { METRIC } from '../../look/format.ts';
import { lookOf } from '../../scene/look-of.ts';
import { COLOUR_MODES, VIEW_DEFAULTS } from '../../state/view-state.ts';
import { createEngine } from '../../worker/engine.ts';
import { drawSheet } from './draw-sheet.ts';
import { flatBar } from './flat-bar.ts';

const fit = createEngine().figures({
  version: 1,
  pattern: FIRST_DOCUMENTS.pattern,
  setup: { ...SETUP_DEFAULTS, samples: 2000 },
  backId: 1,
  back: demoBack('dumpling')!,
});
const { left, right } = fit.bars;
const lookAt = (colour: (typeof COLOUR_MODES)[number]) =>
  lookOf({ ...VIEW_DEFAULTS, colour }, undefined, null, ['tissue', 'pad']);
const sheet = (colour: (typeof COLOUR_MODES)[number], hole: boolean) => {
  const look = lookAt(colour);
  const values = look.valuesOf(left).slice();
  if (hole) values.fill(Number.NaN, 20 * left.columns + 2, 20 * left.columns + 6);
  return drawSheet({
    left: flatBar(left, values),
    right: flatBar(right, look.valuesOf(right)),
    look,
    units: METRIC,
    forkBackMm: fit.tree.forkBackMm,
    cantleFrontMm: fit.tree.cantleFrontMm,
    title: 'Post & <Dumpling>',
    notes: ['a note'],
  });
};

describe('an underside laid flat', () => {
  test('keeps its length and the width of every section', () => {
    const flat = flatBar(right, right.gapMm);
    const row = right.bMm[right.columns]! - right.bMm[0]!;
    expect(flat.lengthMm).toBeCloseTo(row * right.rows, 2);
    for (const i of [0, 10, right.rows - 1]) {
      let width = 0;
      for (let j = 1; j < right.columns; j++) {
        const k = 3 * (i * right.columns + j);
        width += Math.hypot(
          right.positions[k + 1]! - right.positions[k - 2]!,
          right.positions[k + 2]! - right.positions[k - 1]!,
        );
      }
      // Cells' middles stand one cell's width short of the full width.
      const full = (width * right.columns) / (right.columns - 1);
      const at = (i + 1) * flat.columns;
      expect(flat.across[at + flat.columns - 1]! - flat.across[at]!).toBeCloseTo(full, 0);
    }
  });

  test('shows each cell’s own value', () => {
    const flat = flatBar(right, right.pressureKPa);
    for (const cell of [0, 500, right.gapMm.length - 1]) {
      const [i, j] = [Math.floor(cell / right.columns), cell % right.columns];
      expect(flat.values[(i + 1) * flat.columns + j + 1]).toBe(right.pressureKPa[cell]);
    }
  });
});

describe('the sheet', () => {
  test('is drawn in every colour, without a number that is none', () => {
    for (const colour of COLOUR_MODES) expect(sheet(colour, false)).not.toMatch(/NaN|Infinity|undefined/);
  });

  test('hatches what has no data, in the drawing and not only in the legend', () => {
    const hatched = (svg: string): number => svg.split('url(#no-data)').length - 1;
    expect(hatched(sheet('clearance', true))).toBe(hatched(sheet('clearance', false)) + 1);
  });

  test('names the zones at their places, its lines by figures, and lets no text break the file', () => {
    const svg = sheet('clearance', false);
    for (const words of ['under the fork', 'under the cantle', 'core bearing zone', 'no data', 'a note'])
      expect(svg).toContain(words);
    expect(svg).toContain('Post &amp; &lt;Dumpling&gt;');
    const core = (22 + 30 + CORE_FROM * flatBar(left, left.gapMm).lengthMm).toFixed(1);
    expect(svg).toContain(`<line x1="${core}"`);
    expect(svg.match(/paint-order="stroke">−?\d+<\/text>/g)!.length).toBeGreaterThan(4);
  });
});
