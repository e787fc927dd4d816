import type { MathNode } from 'mathjs';
import { create, parseDependencies } from 'mathjs/number';
import { InputError, type InputErrorCode, showGot } from '../numeric/input-error.ts';
import { MAX_NUMBER_LENGTH, normaliseSigns } from '../units/index.ts';
import { nearNames } from './near-names.ts';

export type ExpressionNode =
  | { readonly type: 'number'; readonly value: number }
  | { readonly type: 'unit'; readonly name: string }
  | { readonly type: 'value'; readonly name: string }
  | { readonly type: 'call'; readonly name: FunctionName; readonly args: readonly ExpressionNode[] };

/** Operators become calls, so that one table evaluates everything. */
export type FunctionName = 'add' | 'subtract' | 'multiply' | 'divide' | 'negate' | 'power' | 'convert' | NamedFunction;
type NamedFunction = 'min' | 'max' | 'abs' | 'sqrt' | 'sin' | 'cos' | 'tan' | 'atan2';

export interface Expression {
  readonly text: string;
  readonly root: ExpressionNode;
  /** Names of other values it needs, each once. */
  readonly dependencies: readonly string[];
}

export const EXPRESSION_UNITS: ReadonlySet<string> = new Set(['mm', 'cm', 'm', 'in', 'inch', 'ft', 'deg', 'rad']);

const MAX_NODES = 100;
const MAX_DEPTH = 20;
const ALLOWED_CHARACTERS = /^[ a-zA-Z0-9_.,()+\-*/^]+$/;
/** Hex, octal and binary numbers, digit groups with underscores, names that begin with an underscore. */
const FORBIDDEN_WORDS = /\b0[xXoObB]|\d_|(?:^|[^a-zA-Z0-9_])_/;
const MIXED_NUMBER = /(^|[^\d.a-zA-Z_])(\d+) +(\d+)\/(\d+)(?![\d.])/g;
/** The parser takes `in` for a conversion of all that stands before it, except right after a decimal number. */
const INCHES = /([\d.)] *)in\b/g;
const TIGHT_FRACTION = /(?:^|[^\d.a-zA-Z_/])(\d+)-(\d+)\/(\d+)(?![\d.])/g;

const ARITY: Readonly<Record<NamedFunction, readonly [number, number]>> = {
  min: [1, 20],
  max: [1, 20],
  abs: [1, 1],
  sqrt: [1, 1],
  sin: [1, 1],
  cos: [1, 1],
  tan: [1, 1],
  atan2: [2, 2],
};
const OPERATORS: Readonly<Record<string, FunctionName>> = {
  add: 'add',
  subtract: 'subtract',
  multiply: 'multiply',
  divide: 'divide',
  unaryMinus: 'negate',
  pow: 'power',
  to: 'convert',
};

/**
 * Reads an expression over named values and units, such as `seatLength + 6 1/2 in`.
 * The outside parser only gives a tree; every node of it is checked against a short list of what is allowed, so there
 * are no loops, assignments, lists or calls to anything but min max abs sqrt sin cos tan atan2.
 * Throws InputError: empty, too-long, forbidden, ambiguous (`6-1/2` may be 6.5 or 5.5), syntax, unknown-name, not-a-number.
 */
export function parseExpression(text: string, known: ReadonlySet<string>, field: string): Expression {
  const plain = checkText(text, field);
  const place = { text, field, known, names: new Set<string>(), nodes: 0 };
  return { text, root: convert(parseTree(plain, text, field), place, 0), dependencies: [...place.names] };
}

interface Place {
  readonly text: string;
  readonly field: string;
  readonly known: ReadonlySet<string>;
  readonly names: Set<string>;
  nodes: number;
}

function checkText(text: string, field: string): string {
  if (text.length > MAX_NUMBER_LENGTH) {
    throw refuse('too-long', text, field, `at most ${MAX_NUMBER_LENGTH} characters`, 'move a part into another value');
  }
  const plain = normaliseSigns(text);
  if (plain === '') throw refuse('empty', text, field, 'a number or an expression', 'write for example 560 mm');
  if (!ALLOWED_CHARACTERS.test(plain) || FORBIDDEN_WORDS.test(plain)) {
    throw refuse(
      'forbidden',
      text,
      field,
      'plain letters, decimal numbers and + - * / ^ ( ) ,',
      'write inches as in and feet as ft inside an expression, and leave other signs out',
    );
  }
  checkNesting(plain, text, field);
  refuseTightFraction(plain, text, field);
  return plain
    .replace(MIXED_NUMBER, (_, before, whole, num, den) => `${before}(${whole}+${num}/${den})`)
    .replace(INCHES, '$1inch');
}

function checkNesting(plain: string, text: string, field: string): void {
  let depth = 0;
  for (const sign of plain) {
    if (sign === '(') depth++;
    if (sign === ')') depth--;
    if (depth > MAX_DEPTH) {
      throw refuse('forbidden', text, field, `at most ${MAX_DEPTH} open brackets`, 'move a part into another value');
    }
  }
}

function refuseTightFraction(plain: string, text: string, field: string): void {
  for (const [, whole, num, den] of plain.matchAll(TIGHT_FRACTION)) {
    if (Number(num) >= Number(den)) continue;
    throw refuse(
      'ambiguous',
      text,
      field,
      'a hyphen that can be read only one way',
      `write "${whole} ${num}/${den}" if you mean ${Number(whole) + Number(num) / Number(den)}, ` +
        `or "${whole} - ${num}/${den}" with spaces if you mean ${Number(whole) - Number(num) / Number(den)}`,
    );
  }
}

let parser: ((text: string) => MathNode) | undefined;

/** Only the outside parser, and only when a first expression is met: the whole library costs four times a bare start. */
function outsideParser(): (text: string) => MathNode {
  parser ??= create(parseDependencies as Parameters<typeof create>[0]).parse as (text: string) => MathNode;
  return parser;
}

function parseTree(plain: string, text: string, field: string): MathNode {
  try {
    return outsideParser()(plain);
  } catch (error) {
    const why = error instanceof Error ? error.message : 'unreadable';
    throw refuse('syntax', text, field, 'an expression such as seatLength + 6.5 in', `Check the spelling: ${why}`);
  }
}

function convert(node: MathNode, place: Place, depth: number): ExpressionNode {
  place.nodes++;
  if (place.nodes > MAX_NODES || depth > MAX_NODES) {
    throw refuse('too-long', place.text, place.field, `at most ${MAX_NODES} parts`, 'move a part into another value');
  }
  const inner = (child: MathNode): ExpressionNode => convert(child, place, depth + 1);
  if (isKind(node, 'ParenthesisNode')) return inner((node as unknown as { content: MathNode }).content);
  if (isKind(node, 'ConstantNode')) return constant((node as unknown as { value: unknown }).value, place);
  if (isKind(node, 'SymbolNode')) return symbol((node as unknown as { name: string }).name, place);
  if (isKind(node, 'OperatorNode')) return operator(node as unknown as { fn: string; args: MathNode[] }, inner, place);
  if (isKind(node, 'FunctionNode')) return call(node as unknown as { fn: MathNode; args: MathNode[] }, inner, place);
  throw notAllowed(place);
}

function isKind(node: MathNode, kind: string): boolean {
  return (node as { type: string }).type === kind;
}

function constant(value: unknown, place: Place): ExpressionNode {
  if (typeof value === 'number' && Number.isFinite(value)) return { type: 'number', value };
  const expected = 'finite decimal numbers';
  throw refuse('not-a-number', place.text, place.field, expected, 'write an ordinary number');
}

function symbol(name: string, place: Place): ExpressionNode {
  if (place.known.has(name)) {
    place.names.add(name);
    return { type: 'value', name };
  }
  if (EXPRESSION_UNITS.has(name)) return { type: 'unit', name };
  if (name === 'pi') return { type: 'number', value: Math.PI };
  throw unknownName(name, place);
}

function operator(
  node: { fn: string; args: MathNode[] },
  inner: (child: MathNode) => ExpressionNode,
  place: Place,
): ExpressionNode {
  if (node.fn === 'unaryPlus') return inner(node.args[0]!);
  if (!Object.hasOwn(OPERATORS, node.fn)) throw notAllowed(place);
  const name = OPERATORS[node.fn]!;
  const args = node.args.map(inner);
  const second = args[1];
  if (name === 'power' && !(second?.type === 'number' && (second.value === 2 || second.value === 3))) {
    throw refuse('forbidden', place.text, place.field, 'the power 2 or 3', 'multiply the value by itself');
  }
  if (name === 'convert' && second?.type !== 'unit') {
    throw refuse('syntax', place.text, place.field, 'a unit after "to"', 'write for example x to mm');
  }
  return { type: 'call', name, args };
}

function call(
  node: { fn: MathNode; args: MathNode[] },
  inner: (child: MathNode) => ExpressionNode,
  place: Place,
): ExpressionNode {
  const name = isKind(node.fn, 'SymbolNode') ? (node.fn as unknown as { name: string }).name : '';
  if (!Object.hasOwn(ARITY, name)) throw unknownName(name === '' ? place.text : name, place);
  const [least, most] = ARITY[name as NamedFunction];
  if (node.args.length < least || node.args.length > most) {
    const wanted = least === most ? `${least}` : `${least} to ${most}`;
    throw refuse('syntax', place.text, place.field, `${wanted} value(s) in ${name}( )`, 'separate them by commas');
  }
  return { type: 'call', name: name as NamedFunction, args: node.args.map(inner) };
}

function unknownName(name: string, place: Place): InputError {
  const near = nearNames(name, [...place.known, ...Object.keys(ARITY)]);
  return refuse(
    'unknown-name',
    name,
    place.field,
    'the name of a value of the pattern, a unit (mm cm m in ft deg rad), or min max abs sqrt sin cos tan atan2',
    near.length > 0 ? `Did you mean ${near.join(', ')}?` : 'Look at the list of values in the pattern',
  );
}

function notAllowed(place: Place): InputError {
  return refuse(
    'forbidden',
    place.text,
    place.field,
    'only + - * / ^2 ^3, brackets, names, units and a few functions',
    'rewrite it without lists, comparisons or assignments',
  );
}

function refuse(code: InputErrorCode, got: string, field: string, expected: string, remedy: string): InputError {
  return new InputError({ code, field, got: showGot(got), expected, remedy });
}
