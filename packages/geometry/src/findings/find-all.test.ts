import { describe, expect, it } from 'vitest';
import { buildSectionsBack } from '../back/index.ts';
import { setupSchema } from '../seating/index.ts';
import { fitTree } from './fit.ts';
import { mergeSides } from './merge-sides.ts';
import type { Observation } from './observation.ts';
import { besidePublished } from './published-pressure.ts';
import { codesOf, demoDocument, demoPatternTree, evenBack, findingsOf, scenarioSetup } from './scenario.fixture.ts';

const dumpling = evenBack('dumpling');
const rail = demoPatternTree('rail');

describe('findings', () => {
  it('quote the rule in use and who set it', () => {
    const usual = fitTree(rail, dumpling, scenarioSetup(), { detail: 'figures' }).result.findings;
    expect(findingsOf(usual, 'bridging')[0]!.sentence).toContain('rule 3.0 mm; common practice, no source');
    const rules = { lengthwiseMm: 4.5, setBy: 'Quillback Lane bench', setOn: '2026-11-02' };
    const own = fitTree(rail, dumpling, scenarioSetup({ rules }), { detail: 'figures' }).result.findings;
    expect(findingsOf(own, 'bridging')[0]!.sentence).toContain('rule 4.5 mm; Quillback Lane bench, 2026-11-02');
    const loose = scenarioSetup({ rules: { lengthwiseMm: 40 } });
    expect(codesOf(fitTree(rail, dumpling, loose, { detail: 'figures' }).result.findings)).not.toContain('bridging');
    expect(setupSchema.safeParse({ rules: { lengthwizeMm: 3 } }).success).toBe(false);
  });

  it('are one sentence each, without verdicts, with a place on the bars', () => {
    const pairs = [
      ['dumpling', 'rail'],
      ['heron', 'wren'],
      ['tuesday', 'post'],
    ] as const;
    for (const [name, start] of pairs) {
      const back = buildSectionsBack(demoDocument(name));
      const setup = scenarioSetup({ samples: 1500 });
      const { findings } = fitTree(demoPatternTree(start), back, setup, { detail: 'findings' }).result;
      expect(findings.length).toBeGreaterThan(0);
      for (const f of findings) {
        expect(f.sentence).toMatch(/^[A-Z].*\)\.$/);
        expect(f.sentence).not.toMatch(
          /\b(ok|fail|failed|pass|passed|safe|unsafe|negative gap|NaN|undefined|Infinity)\b/i,
        );
        expect(f.fromMm).toBeLessThanOrEqual(f.toMm);
        expect(f.sizeMm).toBeGreaterThan(0);
        for (const c of f.causes) {
          expect(c.sizeMm).toBe(f.sizeMm);
          expect(Math.abs(c.sizeWithoutMm)).toBeLessThan(f.sizeMm);
          expect(c.cause).toBe(c.names.join(' + '));
        }
      }
    }
  });

  it('carry no causes while dragging, and the same findings', () => {
    const setup = scenarioSetup();
    const quick = fitTree(rail, dumpling, setup, { detail: 'figures' }).result.findings;
    const full = fitTree(rail, dumpling, setup, { detail: 'findings' }).result.findings;
    expect(quick.every((f) => f.causes.length === 0)).toBe(true);
    const same = full.filter((f) => f.code !== 'sensitive-to-set-position');
    expect(same.map((f) => [f.code, f.side, f.sizeMm])).toEqual(quick.map((f) => [f.code, f.side, f.sizeMm]));
  });

  it('say nothing about pressure or shape where the tree does not touch what was measured', () => {
    const far = scenarioSetup({ setPositionMm: 200 });
    const document = { ...demoDocument('dumpling') };
    const keep = document.stationsMm.filter((x) => x <= 100).length;
    const short = {
      ...document,
      stationsMm: document.stationsMm.slice(0, keep),
      bearingHeightMm: document.bearingHeightMm.slice(0, keep),
      slopeDeg: document.slopeDeg.slice(0, keep),
    };
    const { status, findings } = fitTree(rail, buildSectionsBack(short), far, { detail: 'findings' }).result;
    expect(status).toBe('no contact');
    expect([...new Set(codesOf(findings))]).toEqual(['off-the-data']);
    expect(findings[0]!.sentence).toContain('100.0 %');
  });

  it('with the back mirrored, swap sides and keep their sizes', () => {
    const document = demoDocument('dumpling');
    const swap = <T>(v: { left: T; right: T }): { left: T; right: T } => ({ left: v.right, right: v.left });
    const mirrored = {
      ...document,
      asymmetry: swap(document.asymmetry),
      bladeBulge: swap(document.bladeBulge),
      hollow: swap(document.hollow),
    };
    const read = (d: typeof document) =>
      fitTree(rail, buildSectionsBack(d), scenarioSetup(), { detail: 'figures' }).result.findings;
    const other = { left: 'right', right: 'left', both: 'both' } as const;
    const key = (code: string, side: string, size: number): string => `${code} ${side} ${size.toFixed(1)}`;
    const own = read(document)
      .map((f) => key(f.code, f.side, f.sizeMm))
      .sort();
    const swapped = read(mirrored)
      .map((f) => key(f.code, other[f.side], f.sizeMm))
      .sort();
    expect(own.some((k) => k.includes(' left ') || k.includes(' right '))).toBe(true);
    expect(swapped).toEqual(own);
  });
});

describe('merging sides', () => {
  const seen = (side: 'left' | 'right', sizeMm: number, fromMm = 40): Observation => ({
    code: 'bridging',
    side,
    fromMm,
    toMm: 400,
    sizeMm,
    ratio: sizeMm / 3,
    withinMeasuringError: false,
    rule: 'rule',
    sizeIn: () => sizeMm,
    say: () => '',
  });

  it('joins what is alike and keeps the larger size', () => {
    const [both, ...none] = mergeSides([seen('left', 8), seen('right', 8.3)]);
    expect(none).toEqual([]);
    expect([both!.side, both!.sizeMm]).toEqual(['both', 8.3]);
  });

  it('keeps sides apart that differ in size or place, and single sides single', () => {
    expect(mergeSides([seen('left', 5), seen('right', 8)]).map((o) => o.side)).toEqual(['left', 'right']);
    expect(mergeSides([seen('left', 8), seen('right', 8, 120)]).map((o) => o.side)).toEqual(['left', 'right']);
    expect(mergeSides([seen('right', 8)]).map((o) => o.side)).toEqual(['right']);
  });
});

describe('words beside published pressures (von Peinen et al. 2010, walk: 7.8/13.4 and 15.3/30.6 kPa)', () => {
  it('say below, near, between and above', () => {
    expect(besidePublished(10, 'peak')).toMatch(/^below the 13.4 kPa/);
    expect(besidePublished(13, 'peak')).toMatch(/^near the 13.4 kPa .* without sore backs/);
    expect(besidePublished(20, 'peak')).toMatch(/^above the 13.4 kPa .* below the 30.6 kPa/);
    expect(besidePublished(30, 'peak')).toMatch(/^near the 30.6 kPa .* with sore backs/);
    expect(besidePublished(40, 'peak')).toMatch(/^above the 30.6 kPa/);
    expect(besidePublished(9.9, 'mean')).toMatch(/^above the 7.8 kPa .* below the 15.3 kPa/);
  });
});
