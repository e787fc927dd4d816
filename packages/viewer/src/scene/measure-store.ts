import { useMemo } from 'react';
import { createStore, useStore } from 'zustand';
import { useDocument, useView } from '../state/hooks.ts';
import { documentStore, viewStore } from '../state/stores.ts';
import { setView } from '../state/view-actions.ts';
import type { Distance, PointMm } from '../state/view-state.ts';
import type { ProbePlace } from './build/probe.ts';
import type { BarPair } from './use-bars.ts';

export type { Distance, PointMm };

export interface Measuring {
  readonly isOn: boolean;
  /** The first of two points. */
  readonly from: PointMm | null;
}

export const measureStore = createStore<Measuring>()(() => ({ isOn: false, from: null }));

/** What is being measured, and the distances that were measured on the horse on the bench. */
export function useMeasuring(): Measuring & { readonly distances: readonly Distance[] } {
  const measuring = useStore(measureStore);
  const horse = useDocument((documents) => documents.back.name);
  const all = useView((view) => view.distances);
  const distances = useMemo(() => all.filter((distance) => distance.horse === horse), [all, horse]);
  return { ...measuring, distances };
}

export const setMeasuring = (isOn: boolean): void => measureStore.setState({ isOn, from: null });

/** The first point of a distance, or its second. */
export function takePoint(point: PointMm): void {
  const { from } = measureStore.getState();
  measureStore.setState({ from: from === null ? point : null });
  if (from === null) return;
  const { distances } = viewStore.getState();
  const id = 1 + Math.max(0, ...distances.map((distance) => distance.id));
  const horse = documentStore.getState().back.name;
  setView({ distances: [...distances, { id, from, to: point, horse }] });
}

export const removeDistance = (id: number): void =>
  setView({ distances: viewStore.getState().distances.filter((distance) => distance.id !== id) });

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
