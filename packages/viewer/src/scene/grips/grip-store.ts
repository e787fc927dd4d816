import type { Grip, GripName, OnPage } from './grips-of.ts';

/** Grips between the picture, which knows where they are, and the page, which has their knobs. Not state: it changes every frame. */
export class GripHand {
  grips: readonly Grip[] = [];
  readonly #knobs = new Map<GripName, HTMLElement>();
  readonly #places = new Map<GripName, OnPage>();

  /** A knob comes, or goes with null. */
  knob(name: GripName, element: HTMLElement | null): void {
    if (element === null) this.#knobs.delete(name);
    else this.#knobs.set(name, element);
    this.#move(name);
  }

  /** null: out of the picture, or not to be dragged from here. */
  place(name: GripName, onPage: OnPage | null): void {
    if (onPage === null) this.#places.delete(name);
    else this.#places.set(name, onPage);
    this.#move(name);
  }

  placeOf(name: GripName): OnPage | null {
    return this.#places.get(name) ?? null;
  }

  #move(name: GripName): void {
    const knob = this.#knobs.get(name);
    if (knob === undefined) return;
    const at = this.#places.get(name);
    knob.style.visibility = at === undefined ? 'hidden' : 'visible';
    if (at === undefined) return;
    const turn = (Math.atan2(at.perMm[1], at.perMm[0]) * 180) / Math.PI;
    knob.style.transform = `translate(${at.x.toFixed(1)}px, ${at.y.toFixed(1)}px) rotate(${turn.toFixed(1)}deg)`;
  }
}
