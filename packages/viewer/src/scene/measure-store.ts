import { createStore, useStore } from 'zustand';
import type { ProbePlace } from './build/probe.ts';
import type { BarPair } from './use-bars.ts';

export type PointMm = readonly [number, number, number];

/** Two places as they were when they were taken, horse frame; they don't move with the bars. */
export interface Distance {
  readonly id: number;
  readonly from: PointMm;
  readonly to: PointMm;
}

export interface Measuring {
  readonly isOn: boolean;
  /** The first of two points. */
  readonly from: PointMm | null;
  readonly distances: readonly Distance[];
}

export const measureStore = createStore<Measuring>()(() => ({ isOn: false, from: null, distances: [] }));
export const useMeasuring = (): Measuring => useStore(measureStore);

export const setMeasuring = (isOn: boolean): void => measureStore.setState({ isOn, from: null });

/** The first point of a distance, or its second. */
export function takePoint(point: PointMm): void {
  measureStore.setState(({ from, distances }) => {
    if (from === null) return { from: point };
    const id = 1 + Math.max(0, ...distances.map((distance) => distance.id));
    return { from: null, distances: [...distances, { id, from, to: point }] };
  });
}

export const removeDistance = (id: number): void =>
  measureStore.setState(({ distances }) => ({ distances: distances.filter((distance) => distance.id !== id) }));

/** Where a place is, horse frame, mm: a cell's middle as it was computed, whatever is exaggerated in the picture. */
export function pointOf(place: ProbePlace, bars: BarPair | null): PointMm | null {
  if (place.on === 'back') return place.atMm;
  const p = bars?.[place.side].positions;
  const k = 3 * place.cell;
  return p === undefined || k >= p.length ? null : [p[k]!, p[k + 1]!, p[k + 2]!];
}

/** Straight, and its parts lengthwise, across and upward: from the first point to the second, mm. */
export function partsOf({ from, to }: Pick<Distance, 'from' | 'to'>) {
  const [alongMm, acrossMm, upMm] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  return { straightMm: Math.hypot(alongMm, acrossMm, upMm), alongMm, acrossMm, upMm };
}
