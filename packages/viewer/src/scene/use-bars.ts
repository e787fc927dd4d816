import { useMemo } from 'react';
import type { BackView, BarView } from '../contract.ts';
import { useResult, useView } from '../state/hooks.ts';
import { useShown } from './shown-store.ts';

export interface BarPair {
  readonly left: BarView;
  readonly right: BarView;
}

/** The bars that are looked at: of a study in the picture, laid on, or under the rider; null before the first fit. */
export function useBars(): BarPair | null {
  const fit = useResult((result) => result.fit);
  const isLaidOn = useView((view) => view.isLaidOn);
  const shown = useShown();
  return shown?.bars ?? (isLaidOn ? fit?.laidOnBars : fit?.bars) ?? null;
}

/** The back that is looked at, in the posture a study gave it. */
export function useBackInView(): BackView | null {
  const back = useResult((result) => result.back);
  const shown = useShown();
  return useMemo(() => (shown === null ? back : { ...shown.back, positions: shown.moved.positions }), [shown, back]);
}
