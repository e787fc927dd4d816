import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/index.ts';
import { buildTracingsBack } from './build-tracings-back.ts';
import { cutTracings, mapPoints, surfaceOf, withCurve } from './tracings.fixture.ts';
import { checkTracings } from './tracings-check.ts';
import type { TracingDocumentCurve, TracingsBackDocument } from './tracings-schema.ts';

const refused = (work: () => unknown): InputError => {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('accepted');
};

const answered = (doc: TracingsBackDocument, answers: Record<string, string>): TracingsBackDocument => ({
  ...doc,
  answers,
});
const exchange = (curve: TracingDocumentCurve): TracingDocumentCurve => mapPoints(curve, (y, z) => [-y, z]);
const points2 = (curve: TracingDocumentCurve): [number, number][] => curve.points as [number, number][];

/** Largest height difference between the backs of two documents at a station, mm. */
function apart(a: TracingsBackDocument, b: TracingsBackDocument, xMm: number): number {
  const [p, q] = [buildTracingsBack(a).back, buildTracingsBack(b).back];
  const shift = q.fileToHorse[11]! - p.fileToHorse[11]!;
  let worst = 0;
  for (let y = -220; y <= 220; y += 10)
    worst = Math.max(worst, Math.abs(p.heightMm(xMm, y) - q.heightMm(xMm, y) + shift));
  return worst;
}

describe('left and right exchanged (TRADE 8.20)', () => {
  it('true labels raise no question, bare or with 0.5 mm of noise (seeds 1 to 6)', () => {
    for (const name of ['dumpling', 'heron', 'tuesday'] as const) {
      expect(checkTracings(cutTracings(name))).toEqual([]);
      for (let seed = 1; seed <= 6; seed++) {
        expect(checkTracings(cutTracings(name, { noise: { mm: 0.5, seed } }))).toEqual([]);
      }
    }
  });

  it('Dumpling: the exchanged station is named alone, at each station where the sides differ', () => {
    const doc = cutTracings('dumpling');
    for (const x of [-50, 0, 50, 100, 150, 200, 250]) {
      const questions = checkTracings(withCurve(doc, `x${x}`, exchange));
      expect(questions.map((q) => q.id)).toEqual([`left-right:x${x}`]);
      expect(questions[0]!.choices.map((c) => c.id)).toEqual([`swap x${x}`, 'keep', 'leave-out']);
    }
  });

  it('Heron: only two stations see the hollow, so both are named and either may be answered', () => {
    const doc = cutTracings('heron');
    const [question, ...others] = checkTracings(withCurve(doc, 'x100', exchange));
    expect(others).toEqual([]);
    expect(question!.choices.map((c) => c.id).sort()).toEqual(['keep', 'leave-out', 'swap x100', 'swap x150']);
    expect(question!.evidence).toMatch(
      /differ from the neighbouring stations' by \d\.\d mm as labelled and \d\.\d mm exchanged/,
    );
  });

  it('nothing is exchanged silently: the back is refused until answered, and follows the answer', () => {
    const doc = cutTracings('dumpling');
    const wrong = withCurve(doc, 'x100', exchange);
    const error = refused(() => buildTracingsBack(wrong));
    expect(error.code).toBe('ambiguous');
    expect(error.details.field).toBe('answers.left-right:x100');
    expect(error.details.remedy).toContain('"swap x100"');
    expect(apart(answered(wrong, { 'left-right:x100': 'swap x100' }), doc, 100)).toBeLessThan(1e-6);
    expect(apart(answered(wrong, { 'left-right:x100': 'keep' }), doc, 100)).toBeGreaterThan(3);
    const without = buildTracingsBack(answered(wrong, { 'left-right:x100': 'leave-out' })).report;
    expect(without.stationsMm.length).toBe(doc.curves.length - 1);
    expect(refused(() => checkTracings(answered(wrong, { 'left-right:x100': 'perhaps' }))).code).toBe('unknown-name');
  });

  it('a half labelled left that fits the right', () => {
    const doc = cutTracings('dumpling');
    const half = withCurve(doc, 'x100', (c) => ({ ...c, side: 'left', points: points2(c).filter((p) => p[0] >= 0) }));
    expect(checkTracings(half).map((q) => q.id)).toEqual(['left-right:x100']);
    const right = withCurve(doc, 'x100', (c) => ({ ...c, side: 'right', points: points2(c).filter((p) => p[0] >= 0) }));
    expect(checkTracings(right)).toEqual([]);
  });

  it('a half labelled right whose points lie on the left', () => {
    const doc = withCurve(cutTracings('tuesday'), 'x100', (c) => ({
      ...c,
      side: 'right',
      points: points2(c).filter((p) => p[0] <= 0),
    }));
    const [question] = checkTracings(doc);
    expect(question!.id).toBe('side:x100');
    expect(question!.evidence).toContain('labelled right, but its points lie on the left');
  });
});

describe('level', () => {
  const tilt = (4 * Math.PI) / 180;
  const doc = cutTracings('tuesday');
  const tilted = withCurve(doc, 'x200', (c) => {
    const turned = mapPoints(c, (y, z) => {
      const pivot = surfaceOf('tuesday').row(200)(0);
      return [
        y * Math.cos(tilt) - (z - pivot) * Math.sin(tilt),
        pivot + y * Math.sin(tilt) + (z - pivot) * Math.cos(tilt),
      ];
    });
    return { ...turned, level: { point: [0, 0], direction: [Math.cos(tilt), Math.sin(tilt)] } };
  });

  it('a level mark tilted by 4 degrees is asked about; turning brings the section back', () => {
    const asked = checkTracings(tilted).find((q) => q.id === 'level:x200');
    expect(asked!.evidence).toContain('tilted by 4.0 degrees, right end up');
    expect(asked!.blocking).toBe(true);
    expect(refused(() => buildTracingsBack(tilted)).details.field).toBe('answers.level:x200');
    expect(apart(answered(tilted, { 'level:x200': 'turn' }), doc, 200)).toBeLessThan(0.3);
  });

  it('paper tracings without a level mark are asked about once, digitised points are not', () => {
    const bare = { ...doc, curves: doc.curves.map(({ level: _, ...c }) => c) };
    const [question, ...others] = checkTracings(bare);
    expect(others).toEqual([]);
    expect(question!.id).toBe('no-level-mark');
    expect(question!.evidence).toBe('no level mark on "x-100", "x-50", "x0", "x50" and 11 more');
    expect(checkTracings(answered(bare, { 'no-level-mark': 'as-drawn' }))).toEqual([]);
    const digitised = {
      ...bare,
      curves: bare.curves.map((c) => ({
        ...c,
        points: points2(c).map(([y, z]): [number, number, number] => [c.stationMm!, y, z]),
      })),
    };
    expect(checkTracings(digitised)).toEqual([]);
  });
});

describe('stations', () => {
  const doc = cutTracings('tuesday');

  it('a missing distance is asked for; a number of mm or leaving it out settles it', () => {
    const missing = withCurve(doc, 'x250', (c) => ({ ...c, stationMm: null }));
    const [question] = checkTracings(missing);
    expect(question).toMatchObject({ id: 'station:x250', takesNumberMm: true, blocking: true });
    expect(refused(() => buildTracingsBack(missing)).code).toBe('ambiguous');
    expect(apart(answered(missing, { 'station:x250': '250' }), doc, 250)).toBeLessThan(1e-9);
    expect(buildTracingsBack(answered(missing, { 'station:x250': 'leave-out' })).report.stationsMm).not.toContain(250);
    expect(refused(() => checkTracings(answered(missing, { 'station:x250': '1e9' }))).code).toBe('unknown-name');
  });

  it('two tracings of one place are asked about, two halves of it are joined', () => {
    const twice = { ...doc, curves: [...doc.curves, { ...doc.curves[3]!, id: 'again' }] };
    const [question] = checkTracings(twice).filter((q) => q.blocking);
    expect(question!.id).toBe('same-station:x50+again');
    expect(checkTracings(answered(twice, { 'same-station:x50+again': 'first' })).filter((q) => q.blocking)).toEqual([]);
    const halves = doc.curves.flatMap((c) => [
      { ...c, id: `${c.id} left`, side: 'left' as const, points: points2(c).filter((p) => p[0] <= 0) },
      { ...c, id: `${c.id} right`, side: 'right' as const, points: points2(c).filter((p) => p[0] >= 0) },
    ]);
    expect(apart({ ...doc, curves: halves }, doc, 150)).toBeLessThan(1e-9);
  });

  it('stations out of order are noted without keeping the back from being built', () => {
    const curves = [...doc.curves];
    [curves[2], curves[5]] = [curves[5]!, curves[2]!];
    const mixed = { ...doc, curves };
    expect(checkTracings(mixed)).toMatchObject([{ id: 'order', blocking: false }]);
    expect(apart(mixed, doc, 120)).toBeLessThan(1e-9);
    expect(checkTracings({ ...doc, curves: [...doc.curves].reverse() })).toEqual([]);
  });

  it('a lengthwise curve 9 mm above one section: asked, then either holds', () => {
    const surface = surfaceOf('tuesday');
    const raised = { ...withCurve(doc, 'x200', (c) => mapPoints(c, (y, z) => [y, z - 9])) };
    const points = Array.from({ length: 61 }, (_, k): [number, number] => [10 * k, surface.row(10 * k)(0)]);
    const both: TracingsBackDocument = {
      ...raised,
      curves: [...raised.curves, { id: 'topline', kind: 'lengthwise', points }],
    };
    const [question, ...others] = checkTracings(both);
    expect(others).toEqual([]);
    expect(question!.id).toBe('heights:x200:topline');
    expect(question!.evidence).toBe('"topline" passes 9.0 mm above the section at x = 200 mm');
    expect(apart(answered(both, { 'heights:x200:topline': 'lengthwise' }), doc, 200)).toBeLessThan(0.2);
    expect(apart(answered(both, { 'heights:x200:topline': 'cross' }), raised, 200)).toBeLessThan(1e-6);
  });
});

describe('unit', () => {
  it('sections too wide or too narrow for a back raise the one question that comes first', () => {
    const doc = cutTracings('tuesday');
    for (const unit of ['cm', 'in', 'm'] as const) {
      const [question, ...others] = checkTracings({ ...doc, unit });
      expect(others).toEqual([]);
      expect(question!.id).toBe('unit');
      expect(question!.choices.find((c) => c.meaning.includes('as wide as a back'))!.id).toBe('mm');
      expect(apart(answered({ ...doc, unit }, { unit: 'mm' }), doc, 100)).toBeLessThan(1e-9);
    }
    const inches = {
      ...doc,
      unit: 'in' as const,
      curves: doc.curves.map((c) => mapPoints(c, (y, z) => [y / 25.4, z / 25.4])),
    };
    expect(checkTracings(inches)).toEqual([]);
    expect(apart(inches, doc, 100)).toBeLessThan(1e-9);
  });
});

describe('hostile curves (VALIDATION D 38 to 40)', () => {
  const doc = cutTracings('tuesday', { fromMm: 0, toMm: 400, everyMm: 100 });
  const withPoints = (change: (points: [number, number][]) => [number, number][]): TracingsBackDocument =>
    withCurve(doc, 'x200', (c) => ({ ...c, points: change(points2(c)) }));

  it('duplicates, reversed order and a closed outline give the same curve', () => {
    expect(
      apart(
        withPoints((p) => p.flatMap((q) => [q, q])),
        doc,
        200,
      ),
    ).toBeLessThan(1e-9);
    expect(
      apart(
        withPoints((p) => [...p].reverse()),
        doc,
        200,
      ),
    ).toBeLessThan(1e-9);
    expect(
      apart(
        withPoints((p) => [...p, [200, -400], [-200, -400], p[0]!]),
        doc,
        200,
      ),
    ).toBeLessThan(1e-9);
  });

  it('a curve that crosses itself, one point many times, and one straight up are refused', () => {
    const crossing = withPoints((p) => p.map((q, i) => (i === 10 ? p[20]! : i === 20 ? p[10]! : q)));
    expect(refused(() => buildTracingsBack(crossing)).code).toBe('inconsistent');
    expect(refused(() => buildTracingsBack(withPoints((p) => p.map(() => [1, 1])))).code).toBe('degenerate');
    expect(refused(() => buildTracingsBack(withPoints((p) => p.map((_, i) => [1, i])))).code).toBe('degenerate');
  });

  it('the same name twice is refused; answers to other questions are said', () => {
    expect(refused(() => checkTracings({ ...doc, curves: doc.curves.map((c) => ({ ...c, id: 'a' })) })).code).toBe(
      'inconsistent',
    );
    const { back } = buildTracingsBack(answered(doc, { 'left-right:x7': 'keep' }));
    expect(back.warnings.join(' ')).toContain('do not arise: left-right:x7');
  });

  it('sides that run down steeply or turn under are left out and said', () => {
    const under = withPoints((p) => [...p, [242, -300], [230, -330]]);
    const { back } = buildTracingsBack(under);
    expect(back.warnings.join(' ')).toMatch(/x200: .*left out/);
    expect(apart(under, doc, 200)).toBeLessThan(1e-6);
  });
});
