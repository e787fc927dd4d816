import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/index.ts';
import { measuredSchema, withoutOwner } from './back-record.ts';
import { remeasureDue } from './back-record-due.ts';
import { DEMO_BACKS, demoBack } from './demo-backs.fixture.ts';
import { readBack } from './read-back.ts';

const measuredOn = (on: string) => ({ measured: { on } });

describe('remeasureDue', () => {
  it.each([
    ['2026-10-12', '2026-12-12'],
    ['2026-11-30', '2027-01-30'],
    ['2026-12-31', '2027-02-28'],
    ['2027-12-31', '2028-02-29'],
    ['2099-12-30', '2100-02-28'],
    ['2026-07-31', '2026-09-30'],
    ['2026-06-30', '2026-08-30'],
  ])('measured on %s: again from %s, not the day before', (on, onIso) => {
    const dayBefore = new Date(Date.parse(onIso) - 86_400_000).toISOString().slice(0, 10);
    expect(remeasureDue(measuredOn(on), onIso)).toMatchObject({ due: true, onIso });
    expect(remeasureDue(measuredOn(on), dayBefore)).toMatchObject({ due: false, onIso });
  });

  it('is 59 to 62 days off, never on a day that does not exist, and later for later measuring (seed 5)', () => {
    const day = fc.integer({ min: 0, max: 60_000 }).map((n) => new Date(n * 86_400_000).toISOString().slice(0, 10));
    fc.assert(
      fc.property(day, day, (a, b) => {
        const [first, second] = a < b ? [a, b] : [b, a];
        const due = [first, second].map((on) => remeasureDue(measuredOn(on), on).onIso);
        expect(new Date(due[0]).toISOString().slice(0, 10)).toBe(due[0]);
        const days = (Date.parse(due[0]) - Date.parse(first)) / 86_400_000;
        expect(days).toBeGreaterThanOrEqual(59);
        expect(days).toBeLessThanOrEqual(62);
        expect(due[0] <= due[1]).toBe(true);
      }),
      { seed: 5, numRuns: 500 },
    );
  });

  it('names its source, doubts a date ahead of today and refuses days that no calendar has', () => {
    expect(remeasureDue(measuredOn('2026-10-12'), '2027-01-01').sentence).toMatch(/Greve & Dyson 2014/);
    expect(remeasureDue(measuredOn('2026-10-12'), '2026-10-11').sentence).toMatch(/check the date/);
    for (const on of ['2026-02-29', '2026-13-01', '2026-00-10', '2026-04-31', 'April']) {
      expect(() => remeasureDue(measuredOn(on), '2026-05-01')).toThrow(InputError);
    }
  });
});

describe('record', () => {
  const record = {
    owner: 'A. Person',
    horse: 'Tuesday',
    surface: 'bare',
    how: 'flexible ruler',
    notes: 'coat clipped',
  };

  it('is read in sections and scans, and the owner alone is left out of a copy', () => {
    const scan = {
      ...{ schema: 'barwright/back/1', kind: 'scan', name: 'Tuesday', mesh: 'tuesday.ply', unit: 'mm' },
      axes: { tail: '+x', right: '+y', up: '+z' },
      landmarks: {},
      measured: demoBack('tuesday').measured,
    };
    for (const doc of [{ ...DEMO_BACKS.tuesday }, scan]) {
      const read = readBack({ ...doc, record });
      expect(read.record).toEqual(record);
      const told = withoutOwner(read);
      expect(JSON.stringify(told)).not.toContain('Person');
      const { owner: _, ...rest } = record;
      expect(told).toEqual({ ...read, record: rest });
      expect(read.record?.owner).toBe('A. Person');
      expect(withoutOwner(told)).toBe(told);
    }
  });

  it('refuses other states of the surface and fields of its own making', () => {
    const refused = [{ ...record, surface: 'clean' }, { ...record, colour: 'bay' }, { surface: 'bare' }];
    for (const bad of refused) {
      expect(() => readBack({ ...DEMO_BACKS.tuesday, record: bad })).toThrow(InputError);
    }
  });
});

describe('the day of a measurement', () => {
  const on = (day: string) =>
    measuredSchema.safeParse({ by: 'x', on: day, uncertaintyMm: 3, uncertaintyDeg: 2 }).success;

  it('is a day of the calendar', () => {
    expect(['2024-02-29', '2000-02-29', '2026-12-31'].map(on)).toEqual([true, true, true]);
    const none = ['2024-13-41', '2023-02-29', '1900-02-29', '2026-04-31', '2026-00-10', '2026-01-00', '26-01-01'];
    expect(none.map(on)).toEqual(none.map(() => false));
  });
});
