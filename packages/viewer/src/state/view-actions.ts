import { viewStore } from './stores.ts';
import type { Units, ViewFrom, ViewState } from './view-state.ts';

export const setView = (change: Partial<ViewState>): void => viewStore.setState(change);

export const setStation = (stationXMm: number): void => viewStore.setState({ stationXMm });

export function setUnits(change: Partial<Units>): void {
  viewStore.setState((view) => ({ units: { ...view.units, ...change } }));
}

/** Turns the camera; asking again for the same view turns it back there. */
export function lookFrom(from: ViewFrom): void {
  viewStore.setState((view) => ({ from, fromAsked: view.fromAsked + 1 }));
}
