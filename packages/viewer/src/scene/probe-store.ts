import { createStore, useStore } from 'zustand';
import type { ProbePlace } from './build/probe.ts';

/** What the probe stands on. `across`: by keyboard, at the station marker, counted as placeAcross does. */
export interface Probe {
  readonly place: ProbePlace | null;
  readonly across: number | null;
}

export const probeStore = createStore<Probe>()(() => ({ place: null, across: null }));

/** By the pointer; it takes the probe from the keyboard. */
export const pointAt = (place: ProbePlace | null): void => probeStore.setState({ place, across: null });
/** By the keyboard; the place follows the station marker from here on. */
export const stepAcross = (across: number): void => probeStore.setState({ place: null, across });
export const useProbe = (): Probe => useStore(probeStore);
