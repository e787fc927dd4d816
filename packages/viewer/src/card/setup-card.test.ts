import { fitDocuments, readBack, readPattern, readSetup, SETUP_DEFAULTS, type Setup } from '@barwright/geometry';
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { demoBack, demoPattern } from '../files/demos.ts';
import { METRIC } from '../look/format.ts';
import { describePattern, editSetup } from '../state/editor.ts';
import { planOf } from './plan-of.ts';
import { SetupCard } from './SetupCard.tsx';
import { usedHere } from './used-here.ts';

const post = readPattern(demoPattern('post'));
const view = describePattern(post);

/** A setup with one of everything that a setup may hold. */
const FULL = readSetup({
  schema: 'barwright/setup/1',
  load: { pulls: [{ name: 'girth', at: 20, downN: 150 }] },
  layers: [
    { name: 'soft tissue', thicknessMm: 0, stiffnessKPaPerMm: 3 },
    { name: 'pad', thicknessMm: 20, material: 'closed-cell foam' },
    { name: 'skirt', thicknessMm: 8, curve: [[50, 40]] },
  ],
  shims: [
    {
      ...{ name: 'wedge', fixedTo: 'bar', fromMm: 200, toMm: 340, innerMm: 60, outerMm: 140, thicknessMm: 4 },
      ...{ side: 'both', rampMm: 20 },
    },
  ],
  materials: {
    wood: {
      ...{ alongMPa: 9000, acrossMPa: 600, shearMPa: 700, poisson: 0.3, strainLimitPercent: 1 },
      ...{ temperature: [[23, 1]], creep: [[0, 1]], source: 'strips' },
    },
    'closed-cell foam': { at25KPa: 44, temperature: [[23, 1]], set: [[1, 0.05]], source: 'sheet' },
    'wool fleece': { curve: [[50, 9]] },
  },
  flex: { groundSeatNPerMm2: 3 },
  limits: { p95KPa: 20 },
  rules: { setOn: '2026-05-31' },
});

const shown = (setup: Setup): string =>
  renderToStaticMarkup(
    createElement(SetupCard, {
      ...{ setup, units: METRIC, solids: view.materials, plan: planOf(view, post.stations) },
      ...{ onSetup: () => ({ ok: true }) as const, onDragStart: () => {}, onDragEnd: () => {} },
    }),
  );

type Leaf = readonly [path: string, value: unknown];

/** Every value of a setup by its dotted path; curves are one value. */
function leavesOf(value: unknown, path = ''): Leaf[] {
  const isCurve = Array.isArray(value) && value.every(Array.isArray) && value.length > 0;
  if (typeof value !== 'object' || value === null || isCurve) return [[path, value]];
  return Object.entries(value).flatMap(([key, item]) => leavesOf(item, path === '' ? key : `${path}.${key}`));
}

const OTHER_WORDS: Readonly<Record<string, string>> = {
  'layers.1.material': 'soft wool felt',
  'shims.0.fixedTo': 'horse',
  'shims.0.side': 'left',
  'flex.bars': 'flexible',
  'flex.groundSeat': 'moulded',
  'load.at': 'seat',
  path: 'exact',
  legForward: 'left',
  'rules.setOn': '2026-06-01',
};

function other(path: string, value: unknown): unknown {
  if (Array.isArray(value)) return value.map(([x, y]: [number, number]) => [x + 1, y]);
  if (typeof value === 'number') return value === 0 ? 1 : 0.9 * value;
  return OTHER_WORDS[path] ?? `${value} changed`;
}

describe('what is used here', () => {
  it('is what fit prints with the result, material by material', () => {
    const setup = { ...FULL, samples: 300, flex: { ...FULL.flex, bars: 'flexible', hours: 10 } } as const;
    const back = readBack(demoBack('tuesday')!.json);
    const { result } = fitDocuments({ pattern: post, back, setup }, { detail: 'figures' });
    const used = usedHere(setup, { bar: view.materials.bar!, tip: view.materials.tip! });
    expect(result.materials).toHaveLength(5);
    for (const one of result.materials) expect(used.get(one.material)).toEqual(one);
    expect(used.get('low density polyethylene')!.value).toBeLessThan(200);
    expect(usedHere(FULL, view.materials).has('wood')).toBe(false);
  });
});

describe('every field of a setup stands on the card', () => {
  const before = shown(FULL);

  it.each(leavesOf(FULL).filter(([path]) => path !== 'schema'))('%s', (path, value) => {
    const edited = editSetup(FULL, path, path === 'samples' ? 500 : other(path, value));
    if (!edited.ok) throw new Error(JSON.stringify(edited.error));
    expect(shown(edited.value)).not.toBe(before);
  });

  it('the defaults hold nothing that the full setup does not', () => {
    const full = new Set(leavesOf(FULL).map(([path]) => path));
    const missing = leavesOf(SETUP_DEFAULTS).filter(([path]) => !full.has(path));
    // Another law of the same layer, which the tests of layers change.
    expect(missing.map(([path]) => path)).toEqual(['layers.1.stiffnessKPaPerMm']);
  });

  it('every material of the table is there, its source and what it gives by', () => {
    for (const name of ['pine plywood', 'high density polyethylene', 'firm sponge rubber']) {
      expect(before).toContain(`aria-label="${name}"`);
    }
    expect(before).toContain('NETZSCH polymer tables');
    expect(before).toContain('ASTM D1056');
    expect(before).toContain('your value: strips.');
    expect(before.match(/your value:/g)).toHaveLength(3);
  });
});
