import type { BackSurface } from '../back/index.ts';
import type { Tree } from '../bar/index.ts';
import { barTemperatureC, layerTemperatureC } from '../layers/index.ts';
import { materialsUsed, type Setup, solidsInUse } from '../seating/index.ts';
import { type GiveFigures, readGive, withBars } from './give-figures.ts';

/** One moment on the way from a cold start to back heat, or of a long time under load. */
export interface WarmUpRow {
  readonly minutes: number;
  readonly hours: number;
  readonly barC: number;
  readonly layerC: number;
  readonly figures: GiveFigures;
}

export interface WarmUpOptions {
  /** Minutes on the horse, under the setup's own hours. */
  readonly minutes?: readonly number[];
  /** Hours under load, at the setup's own minutes. */
  readonly hours?: readonly number[];
}

const HOURS_A_YEAR = 8766;

export const WARM_UP_DEFAULTS = Object.freeze({
  minutes: [0, 5, 15, 30, 60, 120],
  hours: [0, 1, 12, 100, 1000, HOURS_A_YEAR],
} satisfies Required<WarmUpOptions>);

/** Settles the tree at each moment: minutes first, then hours. Time constants and end temperatures are assumed (setup.warmth). */
export function* warmUp(
  tree: Tree,
  back: BackSurface,
  setup: Setup,
  options: WarmUpOptions = {},
): Generator<WarmUpRow, void> {
  const { minutes, hours } = { ...WARM_UP_DEFAULTS, ...options };
  const own = withBars(setup, 'flexible');
  for (const at of minutes) yield rowOf(tree, back, { ...own, warmth: { ...own.warmth, minutes: at } });
  for (const at of hours) yield rowOf(tree, back, { ...own, flex: { ...own.flex, hours: at } });
}

function rowOf(tree: Tree, back: BackSurface, setup: Setup): WarmUpRow {
  const { warmth, flex } = setup;
  return {
    minutes: warmth.minutes,
    hours: flex.hours,
    barC: barTemperatureC(warmth),
    layerC: layerTemperatureC(warmth),
    figures: readGive(tree, back, setup),
  };
}

/** Every curve that these results assume, by part and source. */
export function curvesAssumed(tree: Tree, setup: Setup): string[] {
  const own = withBars(setup, 'flexible');
  const { warmth } = own;
  const heat = (part: string, share: number, minutes: number): string =>
    `${part}: warms from ${warmth.ambientC} degrees C by ${(100 * share).toFixed(0)} % of the way to the back's ${warmth.backC}, with a time constant of ${minutes} min; lumped heat, assumed.`;
  const materials = materialsUsed(own, solidsInUse(tree, own)).flatMap(({ part, material, warmth: warm, time }) => [
    ...(warm === null ? [] : [`${part} (${material}), stiffness against temperature: ${warm.source}.`]),
    ...(time === null ? [] : [`${part} (${material}), stiffness or thickness against time: ${time.source}.`]),
  ]);
  return [
    heat('Bars', warmth.barShare, warmth.barMinutes),
    heat('Layers', warmth.layerShare, warmth.layerMinutes),
    ...materials,
  ];
}
