import type { PatternField } from '@barwright/geometry';
import { HABIT_TEXTS } from '../look/texts/habits.ts';
import type { Documents } from '../state/documents.ts';

/** What changed between two states: the names of what changed, to tell one kind of step from another, and a sentence. */
export interface Change {
  readonly topic: string;
  readonly says: string;
}

const T = HABIT_TEXTS.changed;
const MOST_NAMED = 2;

/** `fields` give pattern values the names that the card has for them. Empty `says`: nothing that one would look for. */
export function whatChanged(before: Documents, now: Documents, fields: readonly PatternField[]): Change {
  const parts: [string, string][] = [];
  if (now.lesson !== before.lesson && now.lesson !== null)
    parts.push(['lesson', T.lesson(now.lesson.document.name, now.lesson.step + 1)]);
  else if (now.lesson !== before.lesson) parts.push(['lesson', T.lessonClosed]);
  if (now.back !== before.back) parts.push(['back', T.horse(now.back.name)]);
  if (now.pattern !== before.pattern) {
    if (now.pattern.name !== before.pattern.name) parts.push(['pattern', T.pattern(now.pattern.name)]);
    else parts.push(...patternParts(before, now, fields));
  }
  if (now.setup !== before.setup) parts.push(...leaves(before.setup, now.setup, 'setup'));
  const named = parts.slice(0, MOST_NAMED).map(([, says]) => says);
  const more = parts.length - named.length;
  return {
    topic: parts.map(([topic]) => topic).join(' '),
    says: named.join('; ') + (more > 0 ? T.more(more) : ''),
  };
}

function patternParts(before: Documents, now: Documents, fields: readonly PatternField[]): [string, string][] {
  const sides = [
    ['', before.pattern.values, now.pattern.values],
    ['left ', before.pattern.leftValues, now.pattern.leftValues],
  ] as const;
  const parts = sides.flatMap(([side, was, is]) =>
    leaves(was, is, '').map(([key, says]): [string, string] => {
      const label = fields.find((field) => field.key === key)?.label ?? key;
      return [side + key, `${side === '' ? label : T.left(label)}: ${says.slice(says.indexOf(': ') + 2)}`];
    }),
  );
  return parts.length > 0 ? parts : [['pattern parts', T.patternParts]];
}

/** Every number, word or switch that differs, by its path in words. */
function leaves(was: unknown, is: unknown, path: string): [string, string][] {
  if (Object.is(was, is)) return [];
  const isTree = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null;
  if (isTree(was) && isTree(is)) {
    const names = [...new Set([...Object.keys(was), ...Object.keys(is)])];
    return names.flatMap((name) => leaves(was[name], is[name], path === '' ? name : `${path}.${name}`));
  }
  return [[path, `${inWords(path)}: ${short(was)} → ${short(is)}`]];
}

const short = (value: unknown): string => {
  if (value === undefined || value === null) return T.default;
  if (typeof value === 'object') return T.set;
  return String(value).slice(0, 40);
};

/** `setup.load.riderKg` reads `setup load rider (kg)`. */
const inWords = (path: string): string =>
  path
    .replace(/(Mm|Kg|Deg|Percent|KPa|MPa|N)$/, (unit) => ` (${UNITS[unit] ?? unit})`)
    .replace(/\.(\d+)/g, (_, index: string) => ` ${Number(index) + 1}`)
    .replaceAll('.', ' ')
    .replace(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`);

const UNITS: Readonly<Record<string, string>> = {
  Mm: 'mm',
  Kg: 'kg',
  Deg: T.degrees,
  Percent: '%',
  KPa: 'kPa',
  MPa: 'MPa',
  N: 'N',
};
