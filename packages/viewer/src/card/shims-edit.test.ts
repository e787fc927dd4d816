import { SETUP_DEFAULTS } from '@barwright/geometry';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { loadEditor, setSetup, undo } from '../state/actions.ts';
import { documentStore } from '../state/stores.ts';

const shim = {
  ...{ name: 'shim', fixedTo: 'bar', side: 'both', fromMm: 210, toMm: 350 },
  ...{ innerMm: 60, outerMm: 140, thicknessMm: 4, rampMm: 20 },
} as const;
const shims = () => documentStore.getState().setup.shims;

describe('shims through the actions of the bench', () => {
  beforeAll(loadEditor);
  beforeEach(() => {
    documentStore.setState({ setup: SETUP_DEFAULTS });
    documentStore.temporal.getState().clear();
  });

  it('are added, changed field by field and taken out; undo goes back one at a time', () => {
    expect(setSetup('shims', [shim])).toEqual({ ok: true });
    expect(setSetup('shims', [...shims(), { ...shim, name: 'wedge', side: 'left' }])).toEqual({ ok: true });
    expect(setSetup('shims.1.thicknessMm', 6.35)).toEqual({ ok: true });
    expect(shims().map(({ name, thicknessMm }) => [name, thicknessMm])).toEqual([
      ['shim', 4],
      ['wedge', 6.35],
    ]);
    expect(setSetup('shims', shims().slice(1))).toEqual({ ok: true });
    expect(shims().map(({ name }) => name)).toEqual(['wedge']);
    const counts = [2, 2, 1, 0].map((count) => {
      undo();
      return [shims().length, count];
    });
    for (const [found, wanted] of counts) expect(found).toBe(wanted);
    expect(documentStore.getState().setup).toEqual(SETUP_DEFAULTS);
  });

  it.each([
    ['shims.0.thicknessMm', 15, 'edges skived over at least twice the thickness', 'rampMm'],
    ['shims.0.toMm', 220, 'from before to, with both skived edges between them', 'toMm'],
    ['shims.0.innerMm', 130, 'inner before outer, with both skived edges between them', 'outerMm'],
  ] as const)('%s = %d is refused in words, and the shim stays', (path, value, expected, field) => {
    setSetup('shims', [shim]);
    const outcome = setSetup(path, value);
    expect(outcome).toMatchObject({ ok: false, error: { expected, field: `shims.0.${field}` } });
    expect(shims()).toEqual([shim]);
  });

  it("a material's own numbers are taken out again as a whole", () => {
    expect(setSetup('materials.wood.alongMPa', 9000)).toEqual({ ok: true });
    expect(setSetup('materials.wool fleece.at25KPa', 4)).toEqual({ ok: true });
    expect(setSetup('materials', { 'wool fleece': { at25KPa: 4 } })).toEqual({ ok: true });
    expect(documentStore.getState().setup.materials).toEqual({ 'wool fleece': { at25KPa: 4 } });
    expect(setSetup('materials.wool fleece.curve', [[50, 9]])).toMatchObject({ ok: false });
  });
});
