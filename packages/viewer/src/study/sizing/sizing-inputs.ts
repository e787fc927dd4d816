import { createStore, useStore } from 'zustand';
import { DEMO_RIDERS, DEMO_SHELVES, demoPattern } from '../../files/demos.ts';
import type { OpenedShelf } from './sizing-service.ts';

/** A rider's document, as opened or as the form has made it. */
export type RiderJson = Readonly<Record<string, unknown>>;

/** Who rides, and what the shop makes: kept while the page is open, not part of a saved bench. */
export interface SizingInputs {
  readonly rider: RiderJson;
  readonly shelf: OpenedShelf;
  /** Riders and shelves opened from files, to go back to. */
  readonly riders: readonly RiderJson[];
  readonly shelves: readonly OpenedShelf[];
}

const OFFERED_SHELVES = DEMO_SHELVES.map(
  ({ id, json, pattern }): OpenedShelf => ({
    json,
    pattern: demoPattern(pattern),
    fileName: `${id}.shelf.json`,
  }),
);
const DEMO_RIDER_JSON = DEMO_RIDERS.map(({ json }) => json as RiderJson);

export const sizingInputs = createStore<SizingInputs>()(() => ({
  rider: DEMO_RIDER_JSON[0]!,
  shelf: OFFERED_SHELVES[0]!,
  riders: DEMO_RIDER_JSON,
  shelves: OFFERED_SHELVES,
}));

export const useSizingInputs = <T>(selector: (inputs: SizingInputs) => T): T => useStore(sizingInputs, selector);

export const chooseRider = (rider: RiderJson): void => sizingInputs.setState({ rider });
export const chooseShelf = (shelf: OpenedShelf): void => sizingInputs.setState({ shelf });

export const changeRider = (change: RiderJson): void =>
  sizingInputs.setState(({ rider }) => ({ rider: { ...rider, ...change } }));

const nameOf = (json: unknown): unknown => (json as { name?: unknown }).name;

/** Opened documents join the lists, in place of those of the same name, and the last of each is the one in use. */
export function addOpened(riders: readonly RiderJson[], shelves: readonly OpenedShelf[]): void {
  sizingInputs.setState((now) => ({
    riders: joined(now.riders, riders, nameOf),
    shelves: joined(now.shelves, shelves, ({ json }) => nameOf(json)),
    rider: riders.at(-1) ?? now.rider,
    shelf: shelves.at(-1) ?? now.shelf,
  }));
}

function joined<T>(had: readonly T[], opened: readonly T[], name: (one: T) => unknown): T[] {
  const names = opened.map(name);
  return [...had.filter((one) => !names.includes(name(one))), ...opened];
}
