/** Union-find over 0..n-1 with path halving; near constant time for each call. */
export class DisjointSets {
  readonly #parent: Int32Array;

  constructor(n: number) {
    const parent = new Int32Array(n);
    for (let i = 0; i < n; i++) parent[i] = i;
    this.#parent = parent;
  }

  /** The lowest member that was joined first; equal for members of one set. */
  find(i: number): number {
    const parent = this.#parent;
    let at = i;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]];
      at = parent[at];
    }
    return at;
  }

  join(i: number, j: number): void {
    const a = this.find(i);
    const b = this.find(j);
    if (a < b) this.#parent[b] = a;
    else this.#parent[a] = b;
  }
}
