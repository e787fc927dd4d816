import {
  InputError,
  type LAYER_LAWS,
  layerGivingBy,
  nearNames,
  readQuantity,
  readSetup,
  type Setup,
  type UnitName,
} from '@barwright/geometry';
import type { Change } from './settings.ts';

export const SETUP_PREFIX = 'setup.';

/** Unit of a setup value by the end of its name. Longer ends come first. */
const UNIT_BY_ENDING: readonly (readonly [string, UnitName])[] = [
  ['KPaPerMm', ''],
  ['KPa', 'kPa'],
  ['Psi', 'psi'],
  ['Kg', 'kg'],
  ['Mm', 'mm'],
  ['Deg', 'deg'],
  ['Percent', '%'],
];

/** Values that "none" takes away. */
const NONE_ALLOWED: ReadonlySet<string> = new Set(['limits.p95KPa', 'flex.groundSeatNPerMm2']);

/** `materials.<name>.<number>` needs no material of that name in the setup before. */
const OWN_NUMBER =
  /^materials\.(?!__proto__)([^.]+)\.(alongMPa|acrossMPa|shearMPa|poisson|strainLimitPercent|at25KPa|source)$/;

type Json = Record<string, unknown> | unknown[];

/** A setup with values changed by dotted keys (`load.riderKg`, `layers.pad.thicknessMm`). Throws InputError. */
export function setSetupValues(setup: Setup, changes: readonly Change[]): Setup {
  const next = structuredClone(setup) as unknown as Record<string, unknown>;
  for (const [key, value] of changes) setOne(next, key, value);
  return readSetup(next);
}

/** Every dotted key of a setup that holds one value; curves are written in the setup's file. */
export function setupKeys(setup: Setup): string[] {
  const list = (value: unknown, path: string): string[] => {
    if (typeof value !== 'object' || value === null) return path === 'schema' ? [] : [path];
    if (Array.isArray(value) && !value.every((item) => Object.hasOwn(Object(item), 'name'))) return [];
    const entries = Array.isArray(value)
      ? value.map((item: { name: string }) => [item.name, item] as const)
      : Object.entries(value);
    return entries.flatMap(([key, item]) => list(item, path === '' ? key : `${path}.${key}`));
  };
  return list(setup, '');
}

/** The value at a dotted key that `setupKeys` lists. */
export function setupValue(setup: Setup, key: string): number | string | boolean | null {
  let value: unknown = setup;
  for (const part of key.split('.')) value = step(value, part);
  return value as number | string | boolean | null;
}

/** Keys of the values that can be stepped through. */
export function setupNumberKeys(setup: Setup): string[] {
  return setupKeys(setup).filter((key) => key === 'load.at' || typeof setupValue(setup, key) === 'number');
}

/** The unit a bare number of this key is taken in. */
export function setupUnit(key: string): UnitName {
  const name = key.split('.').pop()!;
  if (key === 'load.at') return '%';
  return UNIT_BY_ENDING.find(([ending]) => name.endsWith(ending))?.[1] ?? '';
}

function setOne(setup: Record<string, unknown>, key: string, value: string | number): void {
  const keys = setupKeys(setup as unknown as Setup);
  const path = key.split('.');
  const last = path.pop()!;
  if (ownNumber(setup, key, value)) return;
  if (path[0] === 'layers' && path.length === 2 && (last === 'material' || last === 'stiffnessKPaPerMm')) {
    if (giveBy(setup, path[1]!, last, key, value)) return;
  }
  let place: unknown = setup;
  for (const part of path) place = step(place, part);
  if (typeof place !== 'object' || place === null || Array.isArray(place) || !keys.includes(key)) {
    throw unknownKey(key, keys);
  }
  const held = place as Record<string, unknown>;
  held[last] = read(held[last], key, value);
}

/** A layer's material in place of its stiffness or curve, or the other way round; false where there is no such layer. */
function giveBy(
  setup: Record<string, unknown>,
  name: string,
  law: (typeof LAYER_LAWS)[number],
  key: string,
  value: string | number,
): boolean {
  const layers = setup.layers as Setup['layers'];
  if (!layers.some((layer) => layer.name === name)) return false;
  const next = law === 'material' ? String(value) : read(0, key, value);
  setup.layers = layers.map((layer) => (layer.name === name ? layerGivingBy(layer, law, next) : layer));
  return true;
}

/** A number of one's own for a material; false for any other key. Its name and what it can have are left to the reader. */
function ownNumber(setup: Record<string, unknown>, key: string, value: string | number): boolean {
  const [, material, field] = OWN_NUMBER.exec(key) ?? [];
  if (material === undefined || field === undefined) return false;
  const materials = setup.materials as Record<string, Record<string, unknown>>;
  const isNone = field === 'strainLimitPercent' && value === 'none';
  const own = isNone ? null : read(field === 'source' ? '' : 0, key, value);
  materials[material] = { ...(Object.hasOwn(materials, material) ? materials[material] : {}), [field]: own };
  return true;
}

/** One part of a dotted key: a field, or a layer by its name or its number from 0. */
function step(place: unknown, part: string): unknown {
  if (typeof place !== 'object' || place === null) return undefined;
  const isList = Array.isArray(place);
  if (isList) return (place as Json[]).find((item) => (item as Record<string, unknown>).name === part);
  return Object.hasOwn(place, part) ? (place as Record<string, unknown>)[part] : undefined;
}

/** A number is read with its unit; words stay words. `load.at` may be a word, and limits may be switched off by "none". */
function read(before: unknown, key: string, value: string | number): unknown {
  if (NONE_ALLOWED.has(key) && value === 'none') return null;
  if (key === 'load.at' && value === 'seat') return value;
  const isWord = typeof before === 'string' && key !== 'load.at';
  if (isWord) return String(value);
  const unit = setupUnit(key);
  const base = readQuantity(value, { field: `${SETUP_PREFIX}${key}`, unit });
  // Quantities come in kPa; this one field is kept in psi.
  return unit === 'psi' ? base / readQuantity('1 psi', { field: key, unit: 'kPa' }) : base;
}

function unknownKey(key: string, keys: readonly string[]): InputError {
  const near = nearNames(key, keys);
  return new InputError({
    code: 'unknown-name',
    field: `${SETUP_PREFIX}${key}`,
    got: JSON.stringify(key).slice(0, 60),
    expected: 'the name of a value of the setup',
    remedy:
      near.length > 0
        ? `Did you mean ${near.map((name) => SETUP_PREFIX + name).join(', ')}?`
        : `Known: ${keys.map((name) => SETUP_PREFIX + name).join(', ')}`,
  });
}
