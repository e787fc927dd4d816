import {
  type FindingCode,
  type FitResult,
  InputError,
  nearNames,
  readQuantity,
  type UnitName,
} from '@barwright/geometry';

/** What conditions can be put to: its figures by their dotted names, its status, and findings where it looks for any. */
export interface Checkable {
  readonly status: FitResult['status'];
  readonly findings?: FitResult['findings'];
}

/** `NAME OP NUMBER` over the figures of a result. */
export interface Condition {
  readonly text: string;
  readonly name: string;
  readonly operator: Operator;
  /** As written, unit and all. */
  readonly limit: string;
}

export interface ConditionOutcome {
  readonly condition: string;
  readonly name: string;
  readonly operator: Operator;
  readonly limit: number | string;
  /** null where the result has no data for it; then the condition is not met. */
  readonly value: number | string | null;
  readonly met: boolean;
}

const OPERATORS = ['<=', '>=', '!=', '<', '>', '='] as const;
export type Operator = (typeof OPERATORS)[number];

const COMPARE: Readonly<Record<Operator, (a: number, b: number) => boolean>> = {
  '<': (a, b) => a < b,
  '<=': (a, b) => a <= b,
  '>': (a, b) => a > b,
  '>=': (a, b) => a >= b,
  '=': (a, b) => a === b,
  '!=': (a, b) => a !== b,
};

/** Codes that stand for the largest size of a finding. `satisfies` keeps the list complete. */
const FINDING_CODES = Object.keys({
  bridging: 0,
  rocking: 0,
  'inner-edge-bearing': 0,
  'outer-edge-bearing': 0,
  'too-steep': 0,
  'too-flat': 0,
  'pressure-point': 0,
  'layer-solid': 0,
  'past-last-rib': 0,
  'blade-under-tip': 0,
  'low-spine-clearance': 0,
  'over-flex': 0,
  'sensitive-to-set-position': 0,
  'off-the-data': 0,
  'cannot-tell': 0,
} satisfies Record<FindingCode, number>);

/** Unit of a figure by the end of its name. */
const UNITS: readonly (readonly [string, UnitName])[] = [
  ['KPa', 'kPa'],
  ['Psi', 'psi'],
  ['Percent', '%'],
  ['Deg', 'deg'],
  ['Mm', 'mm'],
  ['N', 'N'],
];

const GRAMMAR = /^\s*([a-zA-Z][a-zA-Z0-9.-]*)\s*(<=|>=|!=|=|<|>)\s*(\S.*?)\s*$/;

/** Splits a condition. Throws InputError 'usage'; whether the name means something is known when there is a result. */
export function readCondition(text: string): Condition {
  const match = GRAMMAR.exec(text);
  if (match !== null) return { text: text.trim(), name: match[1]!, operator: match[2] as Operator, limit: match[3]! };
  throw new InputError({
    code: 'usage',
    field: '--require',
    got: JSON.stringify(text).slice(0, 60),
    expected: `a name, one of ${OPERATORS.join(' ')}, and a number`,
    remedy: 'Write for example --require "bridging<3" or --require "contact.p95PressureKPa<=20"',
  });
}

/** Every name a condition may use with this result. */
export function conditionNames(result: Checkable): string[] {
  return [...(result.findings === undefined ? [] : FINDING_CODES), 'status', ...figureNames(result, '')];
}

/** Checks all conditions. Throws InputError unknown-name, or what reading a number throws. */
export function checkConditions(conditions: readonly Condition[], result: Checkable): ConditionOutcome[] {
  const names = new Set(conditions.length === 0 ? [] : conditionNames(result));
  return conditions.map((condition) => {
    if (!names.has(condition.name)) throw unknownName(condition.name, names);
    return condition.name === 'status' ? checkStatus(condition, result) : checkFigure(condition, result);
  });
}

function checkStatus({ text, name, operator, limit }: Condition, { status }: Checkable): ConditionOutcome {
  if (operator !== '=' && operator !== '!=') {
    throw new InputError({
      code: 'usage',
      field: '--require',
      got: text.slice(0, 60),
      expected: '= or != with status',
      remedy: 'Write --require status=settled',
    });
  }
  return { condition: text, name, operator, limit, value: status, met: (status === limit) === (operator === '=') };
}

function checkFigure({ text, name, operator, limit }: Condition, result: Checkable): ConditionOutcome {
  const unit = FINDING_CODES.includes(name) ? 'mm' : (UNITS.find(([ending]) => name.endsWith(ending))?.[1] ?? '');
  const number = readQuantity(limit, { field: `--require ${name}`, unit });
  const value = FINDING_CODES.includes(name) ? largestFinding(name, result) : figureAt(name, result);
  const met = value !== null && COMPARE[operator](value, number);
  return { condition: text, name, operator, limit: number, value, met };
}

/** 0 where nothing of the kind was found; null where nothing could be found because nothing touches. */
function largestFinding(code: string, { findings = [], status }: Checkable): number | null {
  const sizes = findings.filter((finding) => finding.code === code).map((finding) => finding.sizeMm);
  if (sizes.length === 0 && status === 'no contact') return null;
  return sizes.reduce((most, size) => Math.max(most, Math.abs(size)), 0);
}

/** Dotted names of all single numbers (null ones too: they have no data just now). Rows of a list have no name. */
function figureNames(value: unknown, path: string): string[] {
  if (Array.isArray(value)) return [];
  if (typeof value === 'number' || value === null) return [path];
  if (typeof value !== 'object') return [];
  return Object.entries(value as object).flatMap(([key, item]) =>
    figureNames(item, path === '' ? key : `${path}.${key}`),
  );
}

function figureAt(name: string, result: Checkable): number | null {
  let value: unknown = result;
  for (const part of name.split('.')) value = (value as Record<string, unknown>)[part];
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
}

function unknownName(name: string, names: ReadonlySet<string>): InputError {
  const lastPart = (full: string): string => full.split('.').pop()!;
  const near = [...new Set([...nearNames(name, names), ...[...names].filter((n) => lastPart(n) === lastPart(name))])];
  return new InputError({
    code: 'unknown-name',
    field: '--require',
    got: JSON.stringify(name).slice(0, 60),
    expected: `the name of a figure of the result${names.has('bridging') ? ', status, or the code of a finding' : ', or status'}`,
    remedy: near.length > 0 ? `Did you mean ${near.join(', ')}?` : `Known: ${[...names].join(', ')}`,
  });
}
