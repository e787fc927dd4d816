import { InputError, SETUP_DEFAULTS } from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { setSetupValues, setupKeys } from './set-setup.ts';

const codeOf = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    return error instanceof InputError ? error.code : String(error);
  }
  return 'nothing thrown';
};

describe('what a layer gives by, set by key', () => {
  const foam = setSetupValues(SETUP_DEFAULTS, [['layers.pad.material', 'closed-cell foam']]);

  it('a material takes the place of the stiffness, and the other way round', () => {
    expect(foam.layers[1]).toEqual({ name: 'pad', thicknessMm: 20, material: 'closed-cell foam' });
    expect(setupKeys(foam)).toContain('layers.pad.material');
    expect(setupKeys(foam)).not.toContain('layers.pad.stiffnessKPaPerMm');
    const back = setSetupValues(foam, [['layers.pad.stiffnessKPaPerMm', '2.5']]);
    expect(back.layers).toEqual(SETUP_DEFAULTS.layers);
    expect(setSetupValues(foam, [['layers.pad.thicknessMm', '1/2 in']]).layers[1]!.thicknessMm).toBeCloseTo(12.7, 12);
  });

  it('a layer or a material that does not exist is refused, and tissue without thickness has none', () => {
    expect(codeOf(() => setSetupValues(SETUP_DEFAULTS, [['layers.blanket.material', 'wool fleece']]))).toBe(
      'unknown-name',
    );
    expect(codeOf(() => setSetupValues(SETUP_DEFAULTS, [['layers.pad.material', 'wool fleec']]))).toBe('unknown-name');
    expect(codeOf(() => setSetupValues(SETUP_DEFAULTS, [['layers.soft tissue.material', 'wool fleece']]))).not.toBe(
      'nothing thrown',
    );
  });

  it('curves have no key of their own; the ground seat takes "none" back to the table', () => {
    const curve = {
      ...SETUP_DEFAULTS,
      layers: [{ name: 'pad', thicknessMm: 10, curve: [[40, 20] as [number, number]] }],
    };
    expect(setupKeys(curve).filter((key) => key.startsWith('layers'))).toEqual([
      'layers.pad.name',
      'layers.pad.thicknessMm',
    ]);
    const tied = setSetupValues(SETUP_DEFAULTS, [['flex.groundSeatNPerMm2', '3']]);
    expect(tied.flex.groundSeatNPerMm2).toBe(3);
    expect(setSetupValues(tied, [['flex.groundSeatNPerMm2', 'none']]).flex.groundSeatNPerMm2).toBe(null);
  });
});

describe("numbers of one's own for a material, set by key", () => {
  it('need no entry in the setup before, and stand beside each other', () => {
    const { materials } = setSetupValues(SETUP_DEFAULTS, [
      ['materials.low density polyethylene.alongMPa', '300'],
      ['materials.low density polyethylene.source', 'our own test strips'],
      ['materials.wood.strainLimitPercent', 'none'],
      ['materials.wool fleece.at25KPa', '0.5 psi'],
    ]);
    expect(materials['low density polyethylene']).toEqual({ alongMPa: 300, source: 'our own test strips' });
    expect(materials.wood).toEqual({ strainLimitPercent: null });
    expect(materials['wool fleece']!.at25KPa).toBeCloseTo(3.4474, 4);
  });

  it('of a material that is not in the table, or that it cannot have, are refused by name', () => {
    const refused = (key: string, value = '3'): string => codeOf(() => setSetupValues(SETUP_DEFAULTS, [[key, value]]));
    expect(refused('materials.wod.alongMPa')).toBe('unknown-name');
    expect(refused('materials.wood.at25KPa')).toBe('unknown-field');
    expect(refused('materials.wood.alongMPa', '-1')).not.toBe('nothing thrown');
    expect(refused('materials.__proto__.alongMPa')).not.toBe('nothing thrown');
    expect(({} as Record<string, unknown>).alongMPa).toBe(undefined);
    const curved = { ...SETUP_DEFAULTS, materials: { 'wool fleece': { curve: [[50, 9] as [number, number]] } } };
    expect(() => setSetupValues(curved, [['materials.wool fleece.at25KPa', '3']])).toThrow(/not both/);
  });
});
