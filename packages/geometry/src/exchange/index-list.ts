import type { ReadLimits } from './raw-mesh.ts';
import { checkTriangleCount } from './refuse.ts';

/** A growing list of triangles that stops at the triangle budget. */
export class IndexList {
  data: Uint32Array;
  length = 0;
  readonly #limits: ReadLimits;

  constructor(triangles: number, limits: ReadLimits) {
    this.data = new Uint32Array(3 * triangles);
    this.#limits = limits;
  }

  push(a: number, b: number, c: number): void {
    if (this.length + 3 > this.data.length) this.#grow();
    this.data[this.length++] = a;
    this.data[this.length++] = b;
    this.data[this.length++] = c;
  }

  /** The triangles so far; a copy only when the guess was too large. */
  finish(): Uint32Array {
    return this.length === this.data.length ? this.data : this.data.slice(0, this.length);
  }

  #grow(): void {
    checkTriangleCount(this.length / 3 + 1, this.#limits, 'faces');
    const larger = new Uint32Array(Math.max(3 * 64, 2 * this.data.length));
    larger.set(this.data);
    this.data = larger;
  }
}
