import {
  barTemperatureC,
  type MaterialUsed,
  materialsUsed,
  type Setup,
  SOLID_MATERIALS,
  solidAt,
  solidMaterial,
} from '@barwright/geometry';

/**
 * What the setup's layers and the pattern's materials come to with warmth and time, by name of the material: the first
 * place that uses it. Solids of rigid bars are left out: nothing reads them.
 */
export function usedHere(setup: Setup, solids: Readonly<Record<string, string>>): ReadonlyMap<string, MaterialUsed> {
  const at = { temperatureC: barTemperatureC(setup.warmth), hours: setup.flex.hours };
  const known = Object.entries(solids).filter(([, name]) => SOLID_MATERIALS.some((one) => one.name === name));
  const ofBars = Object.fromEntries(
    known.map(([place, name]) => {
      const material = solidMaterial(name, setup.materials);
      return [place, { material, state: solidAt(material, at) }] as const;
    }),
  );
  const all = materialsUsed(setup, setup.flex.bars === 'rigid' ? null : ofBars);
  return new Map(all.reverse().map((used) => [used.material, used]));
}
