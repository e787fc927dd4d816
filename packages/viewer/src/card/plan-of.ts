import { type Setup, stationKey } from '@barwright/geometry';
import type { PatternView } from '../state/index.ts';

export type PlanPoint = readonly [bMm: number, outwardMm: number];

/** A bar seen from above: its outline from the inner edge at the front tip round, straight between stations. */
export interface BarPlan {
  readonly lengthMm: number;
  readonly outline: { readonly left: readonly PlanPoint[]; readonly right: readonly PlanPoint[] };
}

/**
 * Both bars' outlines, mm from the front tip edge and outward from the midplane. Chords laid flat (width x cos of the slope)
 * about their middle, tapered at the tips; corners and the curve between stations are left out. null without numbers.
 */
export function planOf(
  view: Pick<PatternView, 'values' | 'leftValues'>,
  stations: readonly { readonly name: string; readonly atPercent: number }[],
): BarPlan | null {
  const lengthMm = Number(view.values.length);
  if (!(lengthMm > 0)) return null;
  const outlineOf = (values: PatternView['values']): PlanPoint[] => {
    const value = (key: string): number => Number(values[key]);
    const sorted = [...stations].sort((a, b) => a.atPercent - b.atPercent);
    const sections = sorted.map(({ name, atPercent }) => {
      const slope = (value(stationKey('slope', name)) * Math.PI) / 180;
      const half = 0.5 * value(stationKey('width', name)) * Math.cos(slope);
      return { bMm: (atPercent / 100) * lengthMm, middle: 0.5 * value(stationKey('spread', name)) + half, half };
    });
    const taper = value('tipTaper') / 100;
    const [first, last] = [sections[0]!, sections.at(-1)!];
    const tips = { front: { ...first, bMm: 0 }, rear: { ...last, bMm: lengthMm } };
    const all = [
      { ...tips.front, half: taper * first.half },
      { ...tips.front, bMm: Math.min(value('flareZoneFront'), first.bMm) },
      ...sections,
      { ...tips.rear, bMm: Math.max(lengthMm - value('flareZoneRear'), last.bMm) },
      { ...tips.rear, half: taper * last.half },
    ];
    const inner = all.map(({ bMm, middle, half }): PlanPoint => [bMm, middle - half]);
    const outer = all.map(({ bMm, middle, half }): PlanPoint => [bMm, middle + half]);
    return [...inner, ...outer.reverse()];
  };
  return { lengthMm, outline: { left: outlineOf(view.leftValues), right: outlineOf(view.values) } };
}

type Shim = Setup['shims'][number];

/** Where along the bar a shim lies in this set position: what is fixed to the horse is counted from the blade edge. */
export function alongBar({ fixedTo, fromMm, toMm }: Shim, setPositionMm: number): readonly [from: number, to: number] {
  const start = fixedTo === 'bar' ? 0 : setPositionMm;
  return [fromMm - start, toMm - start];
}

/** The same piece in the same place, fixed to the other. */
export function fixedToOther(shim: Shim, fixedTo: Shim['fixedTo'], setPositionMm: number): Shim {
  if (shim.fixedTo === fixedTo) return shim;
  const [from, to] = alongBar(shim, setPositionMm);
  const start = fixedTo === 'bar' ? 0 : setPositionMm;
  return { ...shim, fixedTo, fromMm: from + start, toMm: to + start };
}
