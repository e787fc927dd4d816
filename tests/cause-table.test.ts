import { readFileSync } from 'node:fs';
import { readPattern, type SectionsBackDocument } from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { causeCases, confusionTable, INJECTED, isFound } from '../examples/cause-table.ts';

const read = (name: string) => JSON.parse(readFileSync(new URL(`../examples/${name}.json`, import.meta.url), 'utf8'));
const documents = {
  backs: ['dumpling', 'heron', 'tuesday'].map((name) => read(`${name}.back`) as SectionsBackDocument),
  pattern: readPattern(read('wren.pattern')),
};

/** Spread hardly shows in pressure or shape (TRADE 4), so it is found only where its height or flank tells: not asked here. */
const TOLD_APART = INJECTED.filter((name) => name !== 'spread');

describe('which cause is named first', () => {
  it('is the fault that was put in, for every cause but spread (seed 700)', () => {
    const cases = causeCases(documents, { cases: TOLD_APART.length, seed: 700, causes: TOLD_APART });
    const missed = cases.filter((c) => !isFound(c));
    expect(missed.length, confusionTable(cases)).toBeLessThanOrEqual(1);
    expect(new Set(cases.map((c) => c.injected[0])).size).toBe(TOLD_APART.length);
  }, 300_000);

  it('with two faults both are named in most cases (seed 900)', () => {
    const causes = ['length', 'rock', 'slope front', 'slope rear', 'twist', 'layers'] as const;
    const cases = causeCases(documents, { cases: causes.length, seed: 900, faults: 2, causes });
    expect(cases.filter(isFound).length).toBeGreaterThanOrEqual(5);
  }, 300_000);

  it('repeats exactly from its seed (seed 4)', () => {
    const options = { cases: 1, seed: 4, causes: ['rock'] } as const;
    expect(causeCases(documents, options)).toEqual(causeCases(documents, options));
  }, 300_000);
});
