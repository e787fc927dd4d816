import { describe, expect, it } from 'vitest';
import { squeezeByLayer } from '../layers/index.ts';
import { peakOverDisc } from '../seating/index.ts';
import { fitTree } from './fit.ts';
import { codesOf, demoPatternTree, evenBack, findingsOf, scenarioSetup } from './scenario.fixture.ts';

const back = evenBack('dumpling');
const rail = demoPatternTree('rail');
const tissue = { name: 'soft tissue', thicknessMm: 0, stiffnessKPaPerMm: 3 };
const fleece = { name: 'skirt', thicknessMm: 12, material: 'wool fleece' };
const pad = { name: 'pad', thicknessMm: 20, material: 'closed-cell foam' };
const fit = (change: Parameters<typeof scenarioSetup>[0]) =>
  fitTree(rail, back, scenarioSetup(change), { detail: 'figures' });

describe('a layer squeezed solid', () => {
  it('is named with what it gives up at the peak over the averaging cell, foam beside it is not', () => {
    const { result, seated } = fit({ layers: [tissue, fleece, pad] });
    const found = findingsOf(result.findings, 'layer-solid');
    expect(found.length).toBeGreaterThan(0);
    const { samples, seat, setup } = seated;
    const peakKPa =
      1000 * peakOverDisc(samples, seat.placedMm, seat.pressureMPa, 100 * setup.averagingCellCm2).pressureMPa;
    const [, ofFleece, ofFoam] = squeezeByLayer(seated.stack, peakKPa);
    expect(Math.max(...found.map((f) => f.sizeMm))).toBeCloseTo(ofFleece! - 0.6 * 12, 9);
    expect(ofFoam!).toBeLessThan(0.6 * 20);
    for (const f of found) {
      expect(f.sentence).toContain('skirt gives up');
      expect(f.sentence).toContain('rule 60 % of its thickness');
      expect(f.toMm).toBeGreaterThan(f.fromMm);
    }
  });

  it('goes with a looser rule, with a thicker layer, and where every layer has no thickness', () => {
    const codes = (change: Parameters<typeof scenarioSetup>[0]) => codesOf(fit(change).result.findings);
    const layers = [tissue, fleece, pad];
    expect(codes({ layers })).toContain('layer-solid');
    expect(codes({ layers, rules: { solidSharePercent: 99 } })).not.toContain('layer-solid');
    expect(codes({ layers: [tissue, pad] })).not.toContain('layer-solid');
    expect(codes({ layers: [tissue], rules: { solidSharePercent: 1 } })).not.toContain('layer-solid');
  });

  it('a linear pad counts too: 60 % of 8 mm at 2.5 kPa/mm is reached at 12 kPa', () => {
    const thin = fit({ layers: [tissue, { name: 'pad', thicknessMm: 8, stiffnessKPaPerMm: 2.5 }] });
    const [found] = findingsOf(thin.result.findings, 'layer-solid');
    const kPa = Number(/at ([\d.]+) kPa/.exec(found!.sentence)![1]);
    expect(found!.sizeMm).toBeCloseTo(kPa / 2.5 - 4.8, 1);
  });
});
