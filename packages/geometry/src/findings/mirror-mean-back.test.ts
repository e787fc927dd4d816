import { describe, expect, it } from 'vitest';
import { buildSectionsBack } from '../back/index.ts';
import { createFootRows } from '../spatial/index.ts';
import { fitTree } from './fit.ts';
import { mirrorMeanBack } from './mirror-mean-back.ts';
import { demoDocument, demoPatternTree, evenBack, scenarioSetup } from './scenario.fixture.ts';

const points = Float64Array.from([120, 110, 20, 260, 140, -10, 330, 90, 30, 40, 130, 40]);
const dumpling = buildSectionsBack(demoDocument('dumpling'));
const mirrored = points.map((v, i) => (i % 3 === 1 ? -v : v));

describe('the mirror mean of a back', () => {
  it('answers alike on both sides, with the mean of both distances', () => {
    const back = dumpling;
    const even = mirrorMeanBack(back);
    const [r, l, own, other] = [4, 4, 4, 4].map(createFootRows) as [Rows, Rows, Rows, Rows];
    even.fast.evaluate(points, 0, 4, 'right', r, true);
    even.fast.evaluate(mirrored, 0, 4, 'left', l, true);
    back.fast.evaluate(points, 0, 4, 'right', own, true);
    back.fast.evaluate(mirrored, 0, 4, 'left', other, true);
    for (let i = 0; i < 4; i++) {
      expect(r.distanceMm[i]).toBeCloseTo(l.distanceMm[i]!, 12);
      expect(r.distanceMm[i]).toBeCloseTo((own.distanceMm[i]! + other.distanceMm[i]!) / 2, 12);
      expect(r.normal[3 * i + 1]).toBeCloseTo(-l.normal[3 * i + 1]!, 12);
    }
    expect(Math.max(...own.distanceMm.map((d, i) => Math.abs(d - other.distanceMm[i]!)))).toBeGreaterThan(0.5);
  });

  it('gives normals and Hessians that are the derivatives of its distances', () => {
    const even = mirrorMeanBack(dumpling).fast;
    const at = (x: number, y: number, z: number): Rows => {
      const rows = createFootRows(1);
      even.evaluate(Float64Array.from([x, y, z]), 0, 1, 'right', rows, true);
      return rows;
    };
    const h = 0.01;
    const here = at(120, 110, 20);
    const slopeY = (at(120, 110 + h, 20).distanceMm[0]! - at(120, 110 - h, 20).distanceMm[0]!) / (2 * h);
    expect(here.normal[1]).toBeCloseTo(slopeY, 5);
    const bendXy = (at(120 + h, 110, 20).normal[1]! - at(120 - h, 110, 20).normal[1]!) / (2 * h);
    expect(here.hessian[1]).toBeCloseTo(bendXy, 5);
    const bendYz = (at(120, 110, 20 + h).normal[1]! - at(120, 110, 20 - h).normal[1]!) / (2 * h);
    expect(here.hessian[4]).toBeCloseTo(bendYz, 5);
  });

  it('changes nothing on an even-sided back, and takes the roll out of an uneven one', () => {
    const setup = scenarioSetup();
    const tree = demoPatternTree('wren');
    const even = evenBack('dumpling');
    const a = fitTree(tree, even, setup, { detail: 'figures' }).result;
    const b = fitTree(tree, mirrorMeanBack(even), setup, { detail: 'figures' }).result;
    expect(b.pose.heightMm).toBeCloseTo(a.pose.heightMm, 4);
    expect(b.contact.areaCm2).toBeCloseTo(a.contact.areaCm2, 1);
    const uneven = dumpling;
    const rolled = fitTree(tree, uneven, setup, { detail: 'figures' }).result.pose.rollDeg;
    const levelled = fitTree(tree, mirrorMeanBack(uneven), setup, { detail: 'figures' }).result.pose.rollDeg;
    expect(Math.abs(rolled)).toBeGreaterThan(0.05);
    expect(Math.abs(levelled)).toBeLessThan(1e-4);
  });
});

type Rows = ReturnType<typeof createFootRows>;
