import { beforeAll, describe, expect, test } from 'vitest';
import demoBack from '../../../../examples/dumpling.back.json' with { type: 'json' };
import demoPattern from '../../../../examples/wren.pattern.json' with { type: 'json' };
import { readBack } from '../back/index.ts';
import { outwardY, undersidePoint } from '../bar/index.ts';
import { type Fit, fitDocuments } from '../findings/index.ts';
import { readPattern } from '../pattern/index.ts';
import { SETUP_DEFAULTS } from '../seating/index.ts';
import { clearanceColour, pressureColour } from './colour-maps.ts';
import { toHex } from './oklab.ts';
import { drawPressureMap } from './pressure-map.ts';
import { createMapGrid } from './pressure-map-grid.ts';
import { createMapScale, MAP_SCALES_DEFAULT } from './pressure-map-scale.ts';
import { breakLines, escapeXml, figure, textWidth } from './pressure-map-text.ts';

const WORDS = { drawnOn: '2026-11-25', cautions: ['Keep <this> in mind.'] };
let fit: Fit;

beforeAll(() => {
  const setup = { ...SETUP_DEFAULTS, samples: 2000 };
  fit = fitDocuments({ pattern: readPattern(demoPattern), back: readBack(demoBack), setup }, { detail: 'figures' });
});

/** Names of elements opened and closed, and that they nest. */
function checkNesting(svg: string): number {
  const open: string[] = [];
  let count = 0;
  for (const [, close, name, self] of svg.matchAll(/<(\/?)([a-zA-Z]+)[^<>]*?(\/?)>/g)) {
    if (close === '/') expect(open.pop()).toBe(name);
    else if (self !== '/') open.push(name!);
    count++;
  }
  expect(open).toEqual([]);
  return count;
}

describe('the sheet', () => {
  test('is well-formed, without NaN, and says figures, assumptions, dates and cautions', () => {
    const svg = drawPressureMap(fit, WORDS);
    expect(checkNesting(svg)).toBeGreaterThan(100);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    const { contact } = fit.result;
    for (const text of [
      'Wren on Dumpling',
      'horse&#39;s left (near side)',
      'mm behind the blade edge',
      `peak ${contact.peakPressureKPa.toFixed(1)} kPa`,
      `95th percentile ${contact.p95PressureKPa.toFixed(1)}`,
      'measured 2026-10-12',
      'Drawn 2026-11-25',
      'Keep &lt;this&gt; in mind.',
      'pad 20 mm, 2.5 kPa/mm',
    ]) {
      expect(svg).toContain(text);
    }
  });

  test('is the same text every time', () => {
    expect(drawPressureMap(fit, WORDS)).toBe(drawPressureMap(fit, WORDS));
  });

  test('names from files can neither break it nor add to it', () => {
    const name = '</text><script>alert(1)</script>"\u0000\u202e&';
    const hostile: Fit = { ...fit, seated: { ...fit.seated, tree: { ...fit.seated.tree, name } } };
    const svg = drawPressureMap(hostile, WORDS);
    expect(checkNesting(svg)).toBeGreaterThan(100);
    expect(svg).not.toContain('<script');
    for (const sign of ['\u0000', '\u202e']) expect(svg.includes(sign)).toBe(false);
  });

  test('true to scale: the page is a quarter of its units, and the grid has the width and length of the bars', () => {
    const svg = drawPressureMap(fit, WORDS);
    const [, width, height, w, h] = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!;
    expect(Number(w)).toBeCloseTo(4 * Number(width), 0);
    expect(Number(h)).toBeCloseTo(4 * Number(height), 0);
    const grid = createMapGrid(fit.seated, 'right', 'clearance');
    expect(grid.alongMm.at(-1)).toBe(500);
    // Beside the waist: the inner edge 62 mm from the midline, then the length of the section itself in 400 short chords.
    const row = Array.from(grid.alongMm).findIndex((b) => Math.abs(b - 250) < 6);
    const { tree } = fit.seated;
    const chain = Array.from({ length: 401 }, (_, k) => {
      const y = outwardY(tree, 'right', grid.alongMm[row]!, -1 + k / 200);
      return undersidePoint(tree, 'right', grid.alongMm[row]!, y);
    });
    const length = chain.slice(1).reduce((sum, p, k) => sum + Math.hypot(p[1] - chain[k]![1], p[2] - chain[k]![2]), 0);
    const inner = grid.acrossMm[row]!;
    expect(inner).toBeCloseTo(62, 0);
    // Chords of a coarse grid fall short of the curve, never beyond it.
    const short = length - (grid.acrossMm[row + grid.columns - 1]! - inner);
    expect(short).toBeGreaterThan(-1e-9);
    expect(short).toBeLessThan(0.3);
    expect(length).toBeGreaterThan(92);
  });

  test('values of the grid are those of the cells, and the outline carries them on', () => {
    const grid = createMapGrid(fit.seated, 'left', 'pressure');
    const { samples, seat } = fit.seated;
    const inside = (r: number, c: number): number => grid.values[(r + 1) * grid.columns + c + 1]!;
    for (const [r, c] of [
      [0, 0],
      [5, 3],
      [samples.rows - 1, samples.columns - 1],
    ] as const) {
      expect(inside(r, c)).toBe(1000 * seat.pressureMPa[r * samples.columns + c]!);
    }
    expect(Math.min(...grid.values)).toBeGreaterThanOrEqual(0);
  });
});

describe('the scale', () => {
  test('is the same whatever the data, and its fills are the colours of the map', () => {
    const scale = createMapScale('clearance', MAP_SCALES_DEFAULT);
    expect([scale.lowest, scale.highest]).toEqual([-15, 15]);
    const step = scale.fillLevels.indexOf(4);
    expect(scale.fill(step)).toBe(toHex(clearanceColour(3.5, MAP_SCALES_DEFAULT.clearance)));
    expect(scale.fill(0)).toBe(toHex(clearanceColour(-99, MAP_SCALES_DEFAULT.clearance)));
    expect(scale.fill(scale.fillLevels.length)).toBe(toHex(clearanceColour(99, MAP_SCALES_DEFAULT.clearance)));
    const heavy = { ...fit, result: { ...fit.result, gap: { ...fit.result.gap, minMm: -80 } } };
    const bands = (svg: string): string[] => [...svg.matchAll(/<rect [^>]*fill="(#\w+)"/g)].map((match) => match[1]!);
    expect(bands(drawPressureMap(heavy, WORDS))).toEqual(bands(drawPressureMap(fit, WORDS)));
  });

  test('wide ends take wider steps, and odd ends are kept as they are', () => {
    const scale = createMapScale('pressure', { ...MAP_SCALES_DEFAULT, pressure: { maxKPa: 137 } });
    expect(scale.fillLevels.length).toBeLessThan(40);
    expect(scale.highest).toBe(137);
    expect(scale.marks.at(-1)).toBe(137);
    expect(scale.fill(scale.fillLevels.length)).toBe(toHex(pressureColour(137, { maxKPa: 137 })));
  });
});

describe('text', () => {
  test('figures have a true minus, never before zero, and words where there is no data', () => {
    expect([figure(-0.04, 1), figure(-3.26, 1), figure(null, 1), figure(Number.NaN, 0)]).toEqual([
      '0.0',
      '\u22123.3',
      'no data',
      'no data',
    ]);
  });

  test('lines keep within their width and lose no word', () => {
    const text = 'The surface was taken standing, on one day, by the person named in the record, and horses change.';
    const lines = breakLines(text, 10, 120);
    expect(lines.join(' ')).toBe(text);
    for (const line of lines) expect(textWidth(line, 10)).toBeLessThanOrEqual(120);
  });

  test('what XML cannot hold is left out', () => {
    expect(escapeXml('a\u0001b\ud800<\u202e\u{1f40e}')).toBe('ab&lt;\u{1f40e}');
  });
});
