import { describe, expect, test } from 'vitest';
import { demoShape } from '../bar/demo-shapes.fixture.ts';
import { treeOf } from '../bar/demo-tree.fixture.ts';
import type { BarShape, Tree } from '../bar/index.ts';
import { InputError } from '../numeric/index.ts';
import { SHEET_UNITS } from './sheet-pen.ts';
import { drawTipSection, type TipSectionOptions } from './tip-section.ts';
import type { TipMaterial } from './tip-section-notes.ts';
import { tipDimensions } from './tip-section-shape.ts';

const material = (place: TipMaterial['place'], name: string, alongMPa: number): TipMaterial => ({
  ...{ place, name, alongMPa, temperatureC: 31.5, hours: 8 },
  ...{ rangeMPa: [100, 1400] as const, source: `invented for ${place}` },
});
const WORDS: TipSectionOptions = {
  side: 'right',
  version: 'Version 3 <beta>',
  drawnOn: '2026-11-25',
  materials: [material('bar', 'stiff', 900), material('lower', 'soft', 201), material('tip', 'middling', 455)],
  cautions: ['Keep <this> in mind.'],
};
const treeWith = (change: Partial<BarShape> = {}): Tree =>
  treeOf({
    ...demoShape('post'),
    ...{ tipThicknessMm: 12, tipEdgeThicknessMm: 5, lowerShare: 0.4, ...change },
  });
const draw = (change: Partial<BarShape> = {}, more: Partial<TipSectionOptions> = {}): string =>
  drawTipSection(treeWith(change), { ...WORDS, ...more });

type Point = readonly [number, number];
const points = (text: string): Point[] =>
  text.split(' ').map((pair) => pair.split(',').map((value) => Number(value) / SHEET_UNITS) as unknown as Point);
const apart = ([a, b]: Point, [c, d]: Point): number => Math.hypot(a - c, b - d);

/** Distance between the two arrow heads of a dimension, as drawn: mm of paper. */
function drawn(svg: string, name: string): number {
  const group = new RegExp(`<g data-dimension="${name}">(.*?)</g>`).exec(svg)![1]!;
  const heads = [...group.matchAll(/<polygon points="([^"]*)"/g)].map(([, text]) => points(text!)[0]!);
  expect(heads).toHaveLength(2);
  return apart(heads[0]!, heads[1]!);
}
/** Outlines of one material, from the front. */
const outlines = (svg: string, part: string): Point[][] =>
  [...svg.matchAll(new RegExp(`data-part="${part}" points="([^"]*)"`, 'g'))].map(([, text]) => points(text!));

describe('the section of a front tip', () => {
  test('every dimension is drawn as long as the pattern says, in true size', () => {
    const svg = draw();
    const expected = {
      ...{ 'tip-length': 75, 'flare-zone': 75, 'fork-foot': 60, lift: 18 },
      ...{ 'edge-thickness': 5, 'root-thickness': 12, 'bar-thickness': 22 },
    };
    for (const [name, mm] of Object.entries(expected)) expect(drawn(svg, name), name).toBeCloseTo(mm, 2);
    const bar = /<g data-dimension="check-bar"><line x1="([\d.]+)" y1="[\d.]+" x2="([\d.]+)"/.exec(svg)!;
    expect((Number(bar[2]) - Number(bar[1])) / SHEET_UNITS).toBeCloseTo(100, 6);
    const [, width, viewed] = /width="([\d.]+)mm".*viewBox="0 0 ([\d.]+)/.exec(svg)!;
    expect(Number(viewed) / Number(width)).toBeCloseTo(SHEET_UNITS, 9);
  });

  test('other numbers give other lengths, and thin and thick ones are dimensioned alike', () => {
    const svg = draw({ tipLengthFrontMm: 110, flareZoneFrontMm: 90, flareLiftFrontMm: 25.5, tipEdgeThicknessMm: 2.25 });
    expect(drawn(svg, 'tip-length')).toBeCloseTo(110, 2);
    expect(drawn(svg, 'flare-zone')).toBeCloseTo(90, 2);
    expect(drawn(svg, 'lift')).toBeCloseTo(25.5, 2);
    expect(drawn(svg, 'edge-thickness')).toBeCloseTo(2.25, 2);
  });

  test('the plies are as thick as they are: lower layer 40 %, tip above it, then the bar', () => {
    const svg = draw();
    const ends = (outline: Point[]): [front: number, rear: number] => {
      const half = outline.length / 2;
      return [apart(outline[0]!, outline.at(-1)!), apart(outline[half - 1]!, outline[half]!)];
    };
    const [lowerTip, lowerBar] = outlines(svg, 'ply-lower');
    const [tip] = outlines(svg, 'ply-tip');
    const [bar] = outlines(svg, 'ply-bar');
    const rounded = (values: number[]): number[] => values.map((value) => Math.round(value * 100) / 100);
    expect(rounded(ends(lowerTip!))).toEqual([2, 4.8]);
    expect(rounded(ends(tip!))).toEqual([3, 7.2]);
    expect(rounded(ends(lowerBar!))).toEqual([8.8, 8.8]);
    expect(rounded(ends(bar!))).toEqual([13.2, 13.2]);
  });

  test('without a lower layer it is neither drawn nor listed; the bar is one piece', () => {
    const svg = draw({ lowerShare: 0 });
    expect(outlines(svg, 'ply-lower')).toEqual([]);
    expect(outlines(svg, 'ply-tip')).toHaveLength(1);
    expect(svg).not.toContain('next to the horse');
    expect(svg).not.toContain('invented for lower');
    expect(draw()).toContain('lower layer, next to the horse: soft');
  });

  test('it says what it is: names, figures, warmth, stiffness, source, date, cautions; nothing can break it', () => {
    const svg = draw();
    for (const text of [
      ...['test tree: front tip, right bar', 'Version 3 &lt;beta&gt;. Drawn 2026-11-25', 'Keep &lt;this&gt; in mind.'],
      ...[
        'root 12.0, lower layer 4.8',
        'edge 5.0, lower layer 2.0',
        'tip length 75.0',
        'fork&#39;s foot 80.0 to 140.0',
      ],
      ...['31.5', '455', '100 to 1400', 'invented for tip'],
    ]) {
      expect(svg).toContain(text);
    }
    expect(svg).not.toMatch(/NaN|undefined|Infinity|<this>|<beta>/);
  });

  test('left and right have their own tips; a bar without one is refused', () => {
    const own = treeOf(treeWith({ tipThicknessMm: 9 }).right.shape, treeWith().right.shape);
    expect(drawn(drawTipSection(own, { ...WORDS, side: 'left' }), 'root-thickness')).toBeCloseTo(9, 2);
    expect(drawn(drawTipSection(own, WORDS), 'root-thickness')).toBeCloseTo(12, 2);
    expect(() => tipDimensions(treeWith({ tipLengthFrontMm: 0 }), 'right')).toThrow(InputError);
  });
});
