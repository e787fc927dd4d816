import { mm, type Observation } from './observation.ts';
import type { Reading } from './reading.ts';

/** Words for the codes, as sentences name them. */
export const FINDING_WORDS: Readonly<Record<Observation['code'], string>> = {
  bridging: 'bridging',
  rocking: 'rocking',
  'inner-edge-bearing': 'inner edge bearing',
  'outer-edge-bearing': 'outer edge bearing',
  'too-steep': 'too steep (narrow)',
  'too-flat': 'too flat (wide)',
  'pressure-point': 'pressure point',
  'layer-solid': 'layer squeezed solid',
  'past-last-rib': 'bearing past the last rib',
  'blade-under-tip': 'blade under the tip',
  'low-spine-clearance': 'low spine clearance',
  'over-flex': 'over-flex',
  'sensitive-to-set-position': 'sensitive to set position',
  'off-the-data': 'off the data',
  'cannot-tell': 'cannot tell from these measurements',
};

/** Sums up the observations whose size lies within the back's measuring error of their rule. */
export function findCannotTell(reading: Reading, observations: readonly Observation[]): Observation[] {
  const doubtful = observations.filter((o) => o.withinMeasuringError);
  if (doubtful.length === 0) return [];
  const { measured } = reading.seated.back;
  const { uncertaintyMm, uncertaintyDeg } = measured;
  const names = [...new Set(doubtful.map((o) => FINDING_WORDS[o.code]))];
  return [
    {
      code: 'cannot-tell',
      side: 'both',
      fromMm: Math.min(...doubtful.map((o) => o.fromMm)),
      toMm: Math.max(...doubtful.map((o) => o.toMm)),
      sizeMm: uncertaintyMm,
      ratio: 0,
      withinMeasuringError: true,
      sizeIn: () => null,
      rule: `measured by ${measured.by} on ${measured.on}`,
      say: () =>
        `Cannot tell from these measurements: ${names.join(', ')} ${names.length === 1 ? 'lies' : 'lie'} within the ` +
        `measuring error of this back (${mm(uncertaintyMm)}, ${uncertaintyDeg} degrees) of its rule`,
    },
  ];
}
