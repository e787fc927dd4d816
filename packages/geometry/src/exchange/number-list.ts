/** A growing list of numbers that takes memory as content arrives, never on a header's word. */
export class NumberList {
  data: Float64Array;
  length = 0;

  constructor(expected = 0) {
    this.data = new Float64Array(expected);
  }

  push3(x: number, y: number, z: number): void {
    if (this.length + 3 > this.data.length) {
      const larger = new Float64Array(2 * this.data.length + 192);
      larger.set(this.data);
      this.data = larger;
    }
    this.data[this.length++] = x;
    this.data[this.length++] = y;
    this.data[this.length++] = z;
  }

  /** The numbers so far, in memory of just that size. */
  finish(): Float64Array {
    return this.length === this.data.length ? this.data : this.data.slice(0, this.length);
  }
}
