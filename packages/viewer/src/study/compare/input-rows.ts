import { listPatternFields, resolvePattern, type Setup } from '@barwright/geometry';
import { valueFigure } from '../../card/value-text.ts';
import {
  angleFigure,
  decimalFigure,
  figureText,
  forceFigure,
  lengthFigure,
  massFigure,
  pressureFigure,
  type Units,
} from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import type { CompareRow } from './compare-row.ts';
import type { ComparedView } from './compare-service.ts';
import type { ComparedDocuments } from './kept-store.ts';

const T = TEXTS.compare;

/** What went in: pattern values as resolved, the horse, every value of the setup. Equal rows are among them. */
export function inputRows(
  all: readonly { readonly documents: ComparedDocuments; readonly back: ComparedView['back'] }[],
  units: Units,
): { pattern: CompareRow[]; horse: CompareRow[]; setup: CompareRow[] } {
  return {
    pattern: patternRows(
      all.map(({ documents }) => documents),
      units,
    ),
    horse: horseRows(
      all.map(({ back }) => back),
      units,
    ),
    setup: setupRows(
      all.map(({ documents }) => documents.setup),
      units,
    ),
  };
}

function patternRows(all: readonly ComparedDocuments[], units: Units): CompareRow[] {
  const resolved = all.map(({ pattern }) => resolvePattern(pattern));
  const fields = new Map(
    all.flatMap(({ pattern }) => listPatternFields(pattern.stations)).map((field) => [field.key, field]),
  );
  const name: CompareRow = { key: 'name', label: T.patternName, cells: all.map(({ pattern }) => pattern.name) };
  const rows = [...fields.values()].map((field): CompareRow => {
    const shown = (values: Readonly<Record<string, unknown>>): string => {
      const value = values[field.key];
      return value === undefined ? T.absent : figureText(valueFigure(value as number | 'flat', field.kind, units));
    };
    return {
      key: field.key,
      label: field.label,
      cells: resolved.map(({ values, leftValues }) => {
        const [right, left] = [shown(values), shown(leftValues)];
        return left === right ? right : T.sides(left, right);
      }),
    };
  });
  return [name, ...rows];
}

function horseRows(all: readonly ComparedView['back'][], units: Units): CompareRow[] {
  const length = (mm: number): string => figureText(lengthFigure(mm, units, { decimals: 0 }));
  const row = (key: keyof typeof T.horseRows, of: (back: ComparedView['back']) => string): CompareRow => ({
    key,
    label: T.horseRows[key],
    cells: all.map(of),
  });
  return [
    row('name', ({ name }) => name),
    row('kind', ({ kind }) => kind),
    row('usable', ({ usable }) => length(usable.toXMm - usable.fromXMm)),
    row('lastRib', ({ usable }) => length(usable.toXMm)),
    row('lowPoint', ({ lowPointXMm }) => length(lowPointXMm)),
    row('uncertainty', ({ uncertaintyMm, uncertaintyDeg }) => `${uncertaintyMm} mm, ${uncertaintyDeg}°`),
  ];
}

/** Every value of the setup by its dotted path, the same for whatever the setup comes to hold. */
function setupRows(all: readonly Setup[], units: Units): CompareRow[] {
  const flat = all.map((setup) => new Map(leaves(setup, '')));
  const keys = [...new Set(flat.flatMap((one) => [...one.keys()]))].filter((key) => key !== 'schema');
  return keys.map((key) => ({
    key: `setup.${key}`,
    label: setupLabel(key),
    cells: flat.map((one) => (one.has(key) ? setupValue(key, one.get(key), units) : T.absent)),
  }));
}

function leaves(value: unknown, path: string): [string, unknown][] {
  if (typeof value !== 'object' || value === null) return [[path, value]];
  return Object.entries(value).flatMap(([key, part]) => leaves(part, path === '' ? key : `${path}.${key}`));
}

/** A unit at the end of a name, as the code writes it. */
const UNIT = /(KPaPerMm|Psi|Mm|Kg|KPa|Deg|N|C|Percent|Minutes|Hours)$/;

/** `layers.0.thicknessMm` becomes `layers 1, thickness`. */
export function setupLabel(path: string): string {
  return path
    .replace(/\.(\d+)/g, (_, index: string) => ` ${Number(index) + 1}`)
    .split('.')
    .map((part) =>
      part
        .replace(UNIT, '')
        .replace(/([a-z0-9])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`)
        .trim(),
    )
    .filter((part) => part !== '')
    .join(', ');
}

/** In the units of the page where the name says what it is measured in; kPa/mm and the like as they are. */
export function setupValue(path: string, value: unknown, units: Units): string {
  if (value === null || value === undefined) return T.none;
  if (typeof value !== 'number') return String(value);
  const trimmed = Number(value.toPrecision(6));
  if (/KPaPerMm$/.test(path)) return `${trimmed} kPa/mm`;
  if (/Psi$/.test(path)) return `${trimmed} psi`;
  if (/Mm$/.test(path)) return figureText(lengthFigure(value, units));
  if (/Kg$/.test(path)) return figureText(massFigure(value, units));
  if (/KPa$/.test(path)) return figureText(pressureFigure(value, units));
  if (/Deg$/.test(path)) return figureText(angleFigure(value));
  if (/[a-z]N$/.test(path)) return figureText(forceFigure(value, units));
  if (/[a-z]C$/.test(path)) return figureText(decimalFigure(value, '°C', 1));
  return String(trimmed);
}
