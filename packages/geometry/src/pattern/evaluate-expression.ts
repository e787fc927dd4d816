import { InputError, showGot } from '../numeric/input-error.ts';
import { DEG_PER_RAD, MM_PER_FOOT, MM_PER_INCH, RAD_PER_DEG } from '../units/index.ts';
import type { Expression, ExpressionNode, FunctionName } from './parse-expression.ts';

/** A number with its powers of length (mm) and angle (degrees): an area has lengthPower 2. */
export interface Quantity {
  readonly value: number;
  readonly lengthPower: number;
  readonly anglePower: number;
}

const UNITS: Readonly<Record<string, Quantity>> = {
  mm: length(1),
  cm: length(10),
  m: length(1000),
  in: length(MM_PER_INCH),
  inch: length(MM_PER_INCH),
  ft: length(MM_PER_FOOT),
  deg: angle(1),
  rad: angle(DEG_PER_RAD),
};

export function plain(value: number): Quantity {
  return { value, lengthPower: 0, anglePower: 0 };
}

export function length(value: number): Quantity {
  return { value, lengthPower: 1, anglePower: 0 };
}

export function angle(value: number): Quantity {
  return { value, lengthPower: 0, anglePower: 1 };
}

/**
 * Value of a parsed expression; `scope` gives the values it depends on. mm and degrees.
 * Throws InputError: wrong-unit when units don't match, not-a-number when the result is infinite or undefined.
 */
export function evaluateExpression(expression: Expression, scope: (name: string) => Quantity, field: string): Quantity {
  const fail = (code: 'not-a-number' | 'wrong-unit', expected: string, remedy: string): never => {
    throw new InputError({ code, field, got: showGot(expression.text), expected, remedy });
  };
  const visit = (node: ExpressionNode): Quantity => {
    if (node.type === 'number') return plain(node.value);
    if (node.type === 'unit') return UNITS[node.name]!;
    if (node.type === 'value') return scope(node.name);
    const result = OPERATIONS[node.name](node.args.map(visit), fail);
    if (!Number.isFinite(result.value))
      fail('not-a-number', 'a finite result', 'check for a division by zero or a huge power');
    return result;
  };
  return visit(expression.root);
}

type Fail = (code: 'not-a-number' | 'wrong-unit', expected: string, remedy: string) => never;
type Operation = (args: readonly Quantity[], fail: Fail) => Quantity;

const OPERATIONS: Readonly<Record<FunctionName, Operation>> = {
  add: ([a, b], fail) => ({ ...sameUnit(a!, b!, fail), value: a!.value + b!.value }),
  subtract: ([a, b], fail) => ({ ...sameUnit(a!, b!, fail), value: a!.value - b!.value }),
  multiply: ([a, b]) => ({
    value: a!.value * b!.value,
    lengthPower: a!.lengthPower + b!.lengthPower,
    anglePower: a!.anglePower + b!.anglePower,
  }),
  divide: ([a, b]) => ({
    value: a!.value / b!.value,
    lengthPower: a!.lengthPower - b!.lengthPower,
    anglePower: a!.anglePower - b!.anglePower,
  }),
  negate: ([a]) => ({ ...a!, value: -a!.value }),
  power: ([a, b]) => ({
    value: a!.value ** b!.value,
    lengthPower: a!.lengthPower * b!.value,
    anglePower: a!.anglePower * b!.value,
  }),
  // Everything is held in mm and degrees already, so naming a unit only checks it.
  convert: ([a, b], fail) => sameUnit(a!, b!, fail),
  min: (args, fail) => ({ ...allSame(args, fail), value: Math.min(...args.map((a) => a.value)) }),
  max: (args, fail) => ({ ...allSame(args, fail), value: Math.max(...args.map((a) => a.value)) }),
  abs: ([a]) => ({ ...a!, value: Math.abs(a!.value) }),
  sqrt: ([a], fail) => {
    if (a!.lengthPower % 2 !== 0 || a!.anglePower % 2 !== 0) {
      fail('wrong-unit', 'an area or a plain number under sqrt', 'square the lengths first');
    }
    return { value: Math.sqrt(a!.value), lengthPower: a!.lengthPower / 2, anglePower: a!.anglePower / 2 };
  },
  sin: ([a], fail) => plain(Math.sin(radians(a!, fail))),
  cos: ([a], fail) => plain(Math.cos(radians(a!, fail))),
  tan: ([a], fail) => plain(Math.tan(radians(a!, fail))),
  atan2: ([a, b], fail) => {
    sameUnit(a!, b!, fail);
    return angle(Math.atan2(a!.value, b!.value) * DEG_PER_RAD);
  },
};

function radians(a: Quantity, fail: Fail): number {
  if (a.lengthPower !== 0 || a.anglePower !== 1) {
    fail('wrong-unit', 'an angle in sin, cos or tan', 'an angle needs deg or rad, such as cos(30 deg)');
  }
  return a.value * RAD_PER_DEG;
}

function allSame(args: readonly Quantity[], fail: Fail): Quantity {
  for (const other of args) sameUnit(args[0]!, other, fail);
  return args[0]!;
}

function sameUnit(a: Quantity, b: Quantity, fail: Fail): Quantity {
  if (a.lengthPower === b.lengthPower && a.anglePower === b.anglePower) return a;
  return fail(
    'wrong-unit',
    'the same kind on both sides',
    `units do not match: ${describeKind(a)} and ${describeKind(b)}; give every number its unit, such as 6 in`,
  );
}

/** The kind of a quantity in words. */
export function describeKind({ lengthPower, anglePower }: Quantity): string {
  if (lengthPower === 0 && anglePower === 0) return 'a plain number';
  if (lengthPower === 1 && anglePower === 0) return 'a length';
  if (lengthPower === 0 && anglePower === 1) return 'an angle';
  if (lengthPower === 2 && anglePower === 0) return 'an area';
  return `length^${lengthPower} angle^${anglePower}`;
}
