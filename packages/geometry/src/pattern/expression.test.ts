import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../numeric/input-error.ts';
import { angle, evaluateExpression, length, plain, type Quantity } from './evaluate-expression.ts';
import { orderValues } from './order-values.ts';
import { type Expression, parseExpression } from './parse-expression.ts';

const VALUES: Readonly<Record<string, Quantity>> = {
  seatLength: length(393.7),
  spreadFront: length(162),
  slopeFront: angle(43),
  slotCentre: plain(45),
};
const KNOWN = new Set(Object.keys(VALUES));

const shown = (text: string): string =>
  text.length > 40 ? `${text.slice(0, 20)}... of ${text.length}` : JSON.stringify(text);

const evaluate = (text: string): Quantity =>
  evaluateExpression(parseExpression(text, KNOWN, 'length'), (name) => VALUES[name]!, 'length');

function refusal(run: () => unknown): InputError {
  try {
    run();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

describe('expressions', () => {
  // Worked by hand.
  it.each<[string, number, string]>([
    ['seatLength + 6.5 in', 558.8, 'length'],
    ['seatLength + 6 1/2 in', 558.8, 'length'],
    ['seatLength + 1/2 in', 406.4, 'length'],
    ['120 mm - spreadFront/2', 39, 'length'],
    ['2 spreadFront', 324, 'length'],
    ['3(4)', 12, 'plain'],
    ['2--3', 5, 'plain'],
    ['-2^2', -4, 'plain'],
    ['2^3', 8, 'plain'],
    ['17 in to mm', 431.8, 'length'],
    ['5 in in cm', 127, 'length'],
    ['6 in/(2 in)', 3, 'plain'],
    ['slopeFront - 2 deg', 41, 'angle'],
    ['pi/180 * 1 rad', 1, 'angle'],
    ['100 mm * cos(60 deg)', 50, 'length'],
    ['sqrt((3 mm)^2 + (4 mm)^2)', 5, 'length'],
    ['atan2(1 mm, 1 mm)', 45, 'angle'],
    ['max(1 in, 2 cm, 30 mm)', 30, 'length'],
    ['min(seatLength, 1 ft)', 304.8, 'length'],
    ['abs(-3 mm)', 3, 'length'],
    ['seatLength * slotCentre / 100', 177.165, 'length'],
    ['+seatLength', 393.7, 'length'],
    ['seatLength - 1/2 in * 2', 368.3, 'length'],
    ['(1 + 1/2) in', 38.1, 'length'],
    ['seatLength in mm', 393.7, 'length'],
    ['2 in*3', 152.4, 'length'],
    ['6 1/2 in/2', 82.55, 'length'],
    ['seatLength/(1 in)', 15.5, 'plain'],
    ['seatLength \u2212 3.7 mm', 390, 'length'],
  ])('%s', (text, expected, kind) => {
    const result = evaluate(text);
    expect(result.value).toBeCloseTo(expected, 9);
    expect([result.lengthPower, result.anglePower]).toEqual({ length: [1, 0], angle: [0, 1], plain: [0, 0] }[kind]);
  });

  it.each(
    [
      ['', 'empty'],
      ['   ', 'empty'],
      ['# only a comment', 'forbidden'],
      ['('.repeat(20_000), 'too-long'],
      ['('.repeat(60), 'forbidden'],
      ['-'.repeat(50_000), 'too-long'],
      ['-'.repeat(199), 'syntax'],
      [`1${'+1'.repeat(99)}`, 'too-long'],
      ['a+'.repeat(100_000), 'too-long'],
      ['x'.repeat(1_000_000), 'too-long'],
      [`1.${'0'.repeat(100_000)}x`, 'too-long'],
      ['1/0', 'not-a-number'],
      ['0/0', 'not-a-number'],
      ['sqrt(-1)', 'not-a-number'],
      ['10^400', 'forbidden'],
      ['1e400', 'not-a-number'],
      ['1e308*10', 'not-a-number'],
      ['log(0)', 'unknown-name'],
      ['asin(2)', 'unknown-name'],
      ['factorial(1e6)', 'unknown-name'],
      ['9^9^9^9', 'forbidden'],
      ['2^3^2', 'forbidden'],
      ['seatLength^slotCentre', 'forbidden'],
      ['constructor', 'unknown-name'],
      ['toString', 'unknown-name'],
      ['__proto__', 'forbidden'],
      ['constructor(1)', 'unknown-name'],
      ['a["constructor"]', 'forbidden'],
      ['seatLength.constructor', 'forbidden'],
      ['cos.constructor("1")()', 'forbidden'],
      ['x = 3', 'forbidden'],
      ['f(x) = 2', 'forbidden'],
      ['1:1e9', 'forbidden'],
      ['[1,2]', 'forbidden'],
      ['{a: 1}', 'forbidden'],
      ['seatLength ? 1 : 2', 'forbidden'],
      ['1 == 1', 'forbidden'],
      ['3!', 'forbidden'],
      ['5 %', 'forbidden'],
      ["seatLength'", 'forbidden'],
      ['5 mod 3', 'forbidden'],
      ['1 and 2', 'forbidden'],
      ['not 1', 'forbidden'],
      ['range(0, 1e8)', 'unknown-name'],
      ['zeros(1e4, 1e4)', 'unknown-name'],
      ['random()', 'unknown-name'],
      ['evaluate(1)', 'unknown-name'],
      ['import(1)', 'unknown-name'],
      ['config(1)', 'unknown-name'],
      ['createUnit(1)', 'unknown-name'],
      ['nthRoots(1, 1e6)', 'unknown-name'],
      ['\uff11\uff12 mm', 'forbidden'],
      ['\u202e12 mm', 'forbidden'],
      ['\u0455eatLength', 'forbidden'],
      ['seatLength + 6', 'wrong-unit'],
      ['10 mm + 30 deg', 'wrong-unit'],
      ['cos(30)', 'wrong-unit'],
      ['sin(1 mm)', 'wrong-unit'],
      ['sqrt(2 mm)', 'wrong-unit'],
      ['atan2(1 mm, 1)', 'wrong-unit'],
      ['max(1, 1 mm)', 'wrong-unit'],
      ['5 mm to deg', 'wrong-unit'],
      ['5 mm to seatLength', 'syntax'],
      ['10 mm + 3 kPa', 'unknown-name'],
      ['seatLenght + 1 in', 'unknown-name'],
      ['seatLength + h', 'unknown-name'],
      ['e', 'unknown-name'],
      ['i', 'unknown-name'],
      ['NaN', 'not-a-number'],
      ['Infinity', 'not-a-number'],
      ['true', 'not-a-number'],
      ['null', 'not-a-number'],
      ['0x10', 'forbidden'],
      ['0b1', 'forbidden'],
      ['1_000', 'forbidden'],
      ['_x', 'forbidden'],
      ['1.5.2', 'syntax'],
      ['seatLength +', 'syntax'],
      ['(1,2)', 'syntax'],
      ['atan2(1 mm)', 'syntax'],
      ['abs()', 'syntax'],
      ['seatLength + 6-1/2 in', 'ambiguous'],
    ].map(([text, code]) => [shown(text!), code!, text!] as const),
  )('%s is refused as %s', (_, code, text) => {
    const error = refusal(() => evaluate(text));
    expect(error.code).toBe(code);
    expect(error.details.field).toBe('length');
    expect(error.details.remedy.length).toBeGreaterThan(5);
  });

  it('a misspelt name is answered with the near one', () => {
    expect(refusal(() => evaluate('seatLenght + 1 in')).details.remedy).toContain('seatLength');
  });

  it('any text either throws InputError or gives a finite number (seed 431)', () => {
    const piece = fc.constantFrom(
      ...'0123456789.,+-*/^() '.split(''),
      ...[
        'seatLength',
        'slopeFront',
        'slotCentre',
        'mm',
        'in',
        'deg',
        'to',
        'max(',
        'sqrt(',
        'cos(',
        'pi',
        '1e300',
        '[',
        '=',
        '"',
      ],
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.array(piece, { maxLength: 10 }).map((parts) => parts.join('')),
      fc.array(piece, { maxLength: 10 }).map((parts) => parts.join(' ')),
    );
    let evaluated = 0;
    fc.assert(
      fc.property(text, (candidate) => {
        try {
          expect(Number.isFinite(evaluate(candidate).value)).toBe(true);
          evaluated++;
        } catch (error) {
          expect(error).toBeInstanceOf(InputError);
        }
      }),
      { seed: 431, numRuns: 6000 },
    );
    expect(evaluated).toBeGreaterThan(100);
  });

  it('arithmetic on plain numbers is the language own (seed 432)', () => {
    const number = fc.integer({ min: -99, max: 99 });
    fc.assert(
      fc.property(number, number, number, (a, b, c) => {
        expect(evaluate(`(${a}) * (${b}) - (${c})`).value).toBe(a * b - c);
        expect(evaluate(`${a} mm - (${b} mm + ${c} mm) * 2`).value).toBe(a - (b + c) * 2);
      }),
      { seed: 432 },
    );
  });
});

describe('order of values', () => {
  it('each value comes after what it needs', () => {
    const order = orderValues(
      new Map([
        ['a', ['b', 'c']],
        ['b', ['c']],
        ['c', []],
      ]),
    );
    expect(order).toEqual(['c', 'b', 'a']);
  });

  it('a chain of 60 doublings visits and evaluates every value once', () => {
    const names = Array.from({ length: 61 }, (_, i) => `v${i}`);
    const known = new Set(names);
    const parsed = new Map<string, Expression>();
    for (let i = 0; i < 60; i++)
      parsed.set(names[i]!, parseExpression(`${names[i + 1]} + ${names[i + 1]}`, known, names[i]!));
    parsed.set('v60', parseExpression('1 mm', known, 'v60'));
    const results = new Map<string, Quantity>();
    let evaluations = 0;
    for (const name of orderValues(new Map([...parsed].map(([key, entry]) => [key, entry.dependencies])))) {
      evaluations++;
      results.set(
        name,
        evaluateExpression(parsed.get(name)!, (needed) => results.get(needed)!, name),
      );
    }
    expect(evaluations).toBe(61);
    expect(results.get('v0')?.value).toBe(2 ** 60);
  });

  it('a chain of 100 000 values is ordered without running out of stack', () => {
    const chain = new Map(Array.from({ length: 100_000 }, (_, i) => [`v${i}`, i < 99_999 ? [`v${i + 1}`] : []]));
    expect(orderValues(chain)[0]).toBe('v99999');
  });

  it.each<[string, Record<string, string[]>, string]>([
    ['itself', { a: ['a'] }, 'a -> a'],
    ['two', { a: ['b'], b: ['a'] }, 'a -> b -> a'],
    ['three behind an entry', { x: ['a'], a: ['b'], b: ['c'], c: ['a'] }, 'a -> b -> c -> a'],
  ])('a loop of %s is named', (_, needs, loop) => {
    const error = refusal(() => orderValues(new Map(Object.entries(needs))));
    expect(error.code).toBe('cycle');
    expect(error.details.got).toBe(loop);
  });
});
