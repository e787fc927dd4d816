/** Gives points with identical coordinates the same number, in order of first appearance. 0 and -0 are the same. */
export class ExactWelder {
  #positions = new Float64Array(3 * 64);
  #slots = new Int32Array(256).fill(-1);
  #count = 0;
  readonly #key = new Float64Array(3);
  readonly #words = new Uint32Array(this.#key.buffer);

  /** Distinct points so far. */
  get count(): number {
    return this.#count;
  }

  /** Number of the point at x, y, z. */
  add(x: number, y: number, z: number): number {
    const slots = this.#slots;
    const mask = slots.length - 1;
    const p = this.#positions;
    let slot = this.#hash(x, y, z) & mask;
    for (; slots[slot] >= 0; slot = (slot + 1) & mask) {
      const at = 3 * slots[slot];
      if (p[at] === x && p[at + 1] === y && p[at + 2] === z) return slots[slot];
    }
    slots[slot] = this.#count;
    return this.#append(x, y, z);
  }

  /** 3n coordinates of the distinct points. */
  positions(): Float64Array {
    return this.#positions.slice(0, 3 * this.#count);
  }

  #append(x: number, y: number, z: number): number {
    const at = 3 * this.#count;
    if (at === this.#positions.length) {
      const larger = new Float64Array(2 * at);
      larger.set(this.#positions);
      this.#positions = larger;
    }
    this.#positions[at] = x;
    this.#positions[at + 1] = y;
    this.#positions[at + 2] = z;
    this.#count++;
    if (2 * this.#count > this.#slots.length) this.#rehash();
    return this.#count - 1;
  }

  #rehash(): void {
    const slots = new Int32Array(4 * this.#slots.length).fill(-1);
    const mask = slots.length - 1;
    const p = this.#positions;
    for (let i = 0; i < this.#count; i++) {
      let slot = this.#hash(p[3 * i], p[3 * i + 1], p[3 * i + 2]) & mask;
      while (slots[slot] >= 0) slot = (slot + 1) & mask;
      slots[slot] = i;
    }
    this.#slots = slots;
  }

  #hash(x: number, y: number, z: number): number {
    const words = this.#words;
    this.#key[0] = x + 0;
    this.#key[1] = y + 0;
    this.#key[2] = z + 0;
    let h = 0;
    for (let k = 0; k < 6; k++) h = scramble(h ^ words[k]);
    return h;
  }
}

/** Spreads a 32-bit number over all its bits (multiply and shift, after Murmur's finaliser, from memory). */
export function scramble(value: number): number {
  let h = Math.imul(value ^ (value >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
