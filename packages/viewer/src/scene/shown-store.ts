import { createStore, useStore } from 'zustand';
import type { BackView, BarView, TreeView } from '../contract.ts';
import type { Label } from './Labels.tsx';

/** A seating that a study puts in the picture in place of the bench's own. */
export interface Shown {
  readonly bars: { readonly left: BarView; readonly right: BarView };
  readonly tree: TreeView;
  /** Its net is drawn; `moved` says where the vertices are. */
  readonly back: BackView;
  readonly moved: ShownBack;
  readonly labels: readonly Label[];
  /** What the picture shows, in words over it. */
  readonly words: string;
}

export interface ShownBack {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  /** Height of the blades' patches at every vertex, mm: tinted. */
  readonly patchMm: Float32Array;
  /** Rear edge of each patch as points on the back, 3n. */
  readonly bladeEdges: readonly [Float32Array, Float32Array];
}

/** null: the picture shows the bench's own seating. */
export const shownStore = createStore<{ readonly shown: Shown | null }>()(() => ({ shown: null }));

export const show = (shown: Shown | null): void => shownStore.setState({ shown });
export const useShown = (): Shown | null => useStore(shownStore, ({ shown }) => shown);
