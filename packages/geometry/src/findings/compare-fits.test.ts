import { describe, expect, it } from 'vitest';
import { compareFindings, compareFits } from './compare-fits.ts';
import type { Finding, FindingCode } from './fit-result.ts';

const finding = (code: FindingCode, side: Finding['side'], sizeMm: number, withinMeasuringError = false): Finding => ({
  ...{ code, side, fromMm: 0, toMm: 100, sizeMm, causes: [], sentence: `${code}.`, withinMeasuringError },
});
const contact = { areaCm2: 1100, meanPressureKPa: 8.4, p95PressureKPa: 16, shareMiddle: 0.36 } as never;
const fit = (...findings: Finding[]) => ({ contact, findings });
const told = (before: Finding[], after: Finding[]): string[] =>
  compareFindings(fit(...before), fit(...after)).map(
    ({ code, side, change, beforeMm, afterMm, withinMeasuringError }) =>
      `${code} ${side} ${change} ${beforeMm}>${afterMm}${withinMeasuringError ? ' doubtful' : ''}`,
  );

describe('compareFindings', () => {
  it('tells what comes, goes, grows, shrinks and stays', () => {
    const before = [
      finding('bridging', 'both', 4),
      finding('too-flat', 'left', 6),
      finding('past-last-rib', 'both', 30),
    ];
    const after = [
      finding('bridging', 'both', 9),
      finding('past-last-rib', 'both', 12),
      finding('pressure-point', 'right', 2),
    ];
    expect(told(before, after)).toEqual([
      'bridging both grows 4>9',
      'past-last-rib both shrinks 30>12',
      'pressure-point right comes null>2',
      'too-flat left goes 6>null',
    ]);
    expect(told(before, [finding('bridging', 'both', 4.4)])[0]).toBe('bridging both stays 4>4.4');
  });

  it('keeps the sides apart where they differ, and finds a side within "both"', () => {
    expect(told([finding('bridging', 'both', 5)], [finding('bridging', 'left', 5)])).toEqual([
      'bridging left stays 5>5',
      'bridging right goes 5>null',
    ]);
    expect(
      told([finding('bridging', 'left', 5), finding('bridging', 'right', 3)], [finding('bridging', 'both', 8)]),
    ).toEqual(['bridging both grows 5>8']);
  });

  it('marks what lies within measuring error, before where it goes and after where it comes', () => {
    expect(told([finding('rocking', 'both', 4, true)], [])).toEqual(['rocking both goes 4>null doubtful']);
    expect(told([], [finding('rocking', 'both', 4, true)])).toEqual(['rocking both comes null>4 doubtful']);
    expect(told([finding('cannot-tell', 'both', 3)], [])).toEqual([]);
  });

  it('turned round, comes is goes and grows is shrinks', () => {
    const before = [finding('bridging', 'both', 4), finding('too-flat', 'left', 6)];
    const after = [finding('bridging', 'both', 9), finding('pressure-point', 'right', 2)];
    const turned = { comes: 'goes', goes: 'comes', grows: 'shrinks', shrinks: 'grows', stays: 'stays' };
    const there = compareFindings(fit(...before), fit(...after)).map((c) => `${c.code} ${turned[c.change]}`);
    const back = compareFindings(fit(...after), fit(...before)).map((c) => `${c.code} ${c.change}`);
    expect(back.sort()).toEqual(there.sort());
  });
});

describe('compareFits', () => {
  const larger = { areaCm2: 1160, meanPressureKPa: 8, p95PressureKPa: 20, shareMiddle: 0.17 } as never;

  it('says that area and mean hide the 95th percentile, whichever is named first', () => {
    const [there, share] = compareFits(fit(), { contact: larger, findings: [] });
    expect(there).toMatch(
      /^Contact area rises .* the mean falls .* the 95th percentile rises .* not a closer fit here/,
    );
    expect(share).toMatch(/from 36\.0 to 17\.0 %/);
    const [back] = compareFits({ contact: larger, findings: [] }, fit());
    expect(back).toMatch(/^Contact area falls .* the mean rises .* the 95th percentile falls .* not a closer fit here/);
  });

  it('says nothing of a fit without contact, kept in a file with null for what it had not', () => {
    const none = { areaCm2: 0, meanPressureKPa: null, p95PressureKPa: null, shareMiddle: null } as never;
    expect(compareFits(fit(), { contact: none, findings: [] })).toEqual([]);
    expect(compareFits({ contact: none, findings: [] }, fit())).toEqual([]);
  });
});
