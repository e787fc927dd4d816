import { InputError } from '../numeric/index.ts';
import { nearNames } from '../pattern/index.ts';
import type { FactorTable } from './along-table.ts';
import { scaledLaw, softAt25KPa } from './part-law.ts';
import { SOFT_MATERIALS, type SoftMaterial } from './soft-materials.ts';
import { SOLID_MATERIALS, type SolidMaterial } from './solid-materials.ts';

/**
 * Numbers that replace a material's own. What is left out stays; moduli left out follow the one along in
 * proportion, and a soft material's whole curve its pressure at 25 %.
 */
export interface MaterialChange {
  readonly alongMPa?: number | undefined;
  readonly acrossMPa?: number | undefined;
  readonly shearMPa?: number | undefined;
  readonly poisson?: number | undefined;
  readonly temperature?: FactorTable | undefined;
  readonly creep?: FactorTable | undefined;
  readonly strainLimitPercent?: number | null | undefined;
  readonly at25KPa?: number | undefined;
  readonly curve?: readonly (readonly [percent: number, kPa: number])[] | undefined;
  readonly set?: FactorTable | undefined;
  readonly source?: string | undefined;
}

/** By name of the material. */
export type MaterialChanges = Readonly<Record<string, MaterialChange>>;

const OF_SOLIDS = ['alongMPa', 'acrossMPa', 'shearMPa', 'poisson', 'creep', 'strainLimitPercent'] as const;
const OF_SOFT = ['at25KPa', 'curve', 'set'] as const;

/** A solid material of the table with the setup's own numbers. Throws InputError 'unknown-name' or 'unknown-field'. */
export function solidMaterial(name: string, changes: MaterialChanges = {}, field = 'materials'): SolidMaterial {
  const own = named(name, SOLID_MATERIALS, field);
  const change = changeOf(name, changes, OF_SOFT, 'a solid material');
  if (change === null) return own;
  const share = change.alongMPa === undefined ? 1 : change.alongMPa / own.alongMPa;
  const said = saidOf(change);
  const changed: SolidMaterial = {
    ...own,
    alongMPa: change.alongMPa ?? own.alongMPa,
    acrossMPa: change.acrossMPa ?? own.acrossMPa * share,
    shearMPa: change.shearMPa ?? own.shearMPa * share,
    poisson: change.poisson ?? own.poisson,
    source: MODULI.some((key) => change[key] !== undefined) ? said : own.source,
    ...(change.temperature === undefined ? {} : { temperature: change.temperature, temperatureSource: said }),
    ...(change.creep === undefined ? {} : { creep: change.creep, creepSource: said }),
    ...(change.strainLimitPercent === undefined
      ? {}
      : { strainLimitPercent: change.strainLimitPercent, strainSource: said }),
  };
  checkEnergy(changed);
  return changed;
}

/** A plate that is stiff two ways keeps energy only while nu^2 E across < E along (Lekhnitskii, Anisotropic Plates, from memory). */
function checkEnergy({ name, alongMPa, acrossMPa, poisson }: SolidMaterial): void {
  if (poisson ** 2 * acrossMPa < alongMPa) return;
  throw new InputError({
    code: 'inconsistent',
    field: `materials.${name}`,
    got: `${acrossMPa} MPa across and ${alongMPa} MPa along with ${poisson}`,
    expected: "the stiffness across times Poisson's ratio squared below that along",
    remedy: 'Change one of the three.',
  });
}

/** A soft material of the table with the setup's own numbers. Throws InputError 'unknown-name' or 'unknown-field'. */
export function softMaterial(name: string, changes: MaterialChanges = {}, field = 'layers'): SoftMaterial {
  const own = named(name, SOFT_MATERIALS, field);
  const change = changeOf(name, changes, OF_SOLIDS, 'a soft material');
  if (change === null) return own;
  const said = saidOf(change);
  return {
    ...own,
    ...(change.curve === undefined ? {} : { law: { kind: 'curve', curve: change.curve }, source: said }),
    ...(change.at25KPa === undefined
      ? {}
      : { law: scaledLaw(own.law, change.at25KPa / softAt25KPa(own.law)), source: said }),
    ...(change.temperature === undefined ? {} : { temperature: change.temperature, temperatureSource: said }),
    ...(change.set === undefined ? {} : { set: change.set, setSource: said }),
  };
}

/** Refuses changes of materials that don't exist: a misspelt name would change nothing. Throws InputError. */
export function checkMaterialChanges(changes: MaterialChanges): void {
  for (const name of Object.keys(changes)) {
    named(name, [...SOLID_MATERIALS, ...SOFT_MATERIALS], 'materials');
    const isSolid = SOLID_MATERIALS.some((m) => m.name === name);
    if (isSolid) solidMaterial(name, changes);
    else softMaterial(name, changes);
  }
}

/** As printed with the result, wherever a number of the table was replaced. */
const saidOf = ({ source }: MaterialChange): string => `your value: ${source ?? 'no source given'}`;
const MODULI = ['alongMPa', 'acrossMPa', 'shearMPa', 'poisson'] as const;

function named<M extends { readonly name: string }>(name: string, table: readonly M[], field: string): M {
  const found = table.find((m) => m.name === name);
  if (found !== undefined) return found;
  const known = table.map((m) => m.name);
  const near = nearNames(name, known);
  throw new InputError({
    code: 'unknown-name',
    field,
    got: JSON.stringify(name).slice(0, 60),
    expected: 'the name of a material',
    remedy: near.length > 0 ? `Did you mean ${near.join(', ')}?` : `Known: ${known.join(', ')}`,
  });
}

function changeOf(
  name: string,
  changes: MaterialChanges,
  foreign: readonly (keyof MaterialChange)[],
  kind: string,
): MaterialChange | null {
  if (!Object.hasOwn(changes, name)) return null;
  const change = changes[name]!;
  const wrong = foreign.find((key) => change[key] !== undefined);
  if (wrong === undefined) return change;
  throw new InputError({
    code: 'unknown-field',
    field: `materials.${name}.${wrong}`,
    expected: `only the numbers of ${kind}`,
    remedy: 'Remove it',
  });
}
