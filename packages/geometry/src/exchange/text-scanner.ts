const POWERS_OF_TEN = Float64Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));

/**
 * Bytes are compared with literals (9 tab, 10 LF, 13 CR, 32 space, 45 minus, 46 point, 48 zero): bundlers turn a module's constants
 * into variables that are fetched on every turn, a fifth of the time here.
 *
 * Reads blank-separated tokens straight from bytes, line by line, without making strings of them.
 * `number` and `index` don't cross a line's end; they answer NaN and -1 for anything that isn't one, and leave `tokenStart` there.
 */
export class TextScanner {
  pos: number;
  tokenStart: number;
  readonly bytes: Uint8Array;

  constructor(bytes: Uint8Array, from: number) {
    this.bytes = bytes;
    this.pos = from;
    this.tokenStart = from;
  }

  /** Moves past blanks and empty lines; false at the end of the file. */
  startLine(): boolean {
    const { bytes } = this;
    let p = this.pos;
    while (p < bytes.length && (bytes[p] === 32 || (bytes[p] >= 9 && bytes[p] <= 13))) p++;
    this.pos = p;
    return p < bytes.length;
  }

  /** Moves past blanks within the line; true when nothing else stands on it. */
  atLineEnd(): boolean {
    const { bytes } = this;
    let p = this.pos;
    while (p < bytes.length && (bytes[p] === 32 || bytes[p] === 9)) p++;
    this.pos = p;
    return p >= bytes.length || bytes[p] === 10 || bytes[p] === 13;
  }

  /** Moves to the end of the line, either kind of line end. */
  skipLine(): void {
    const { bytes } = this;
    let p = this.pos;
    while (p < bytes.length && bytes[p] !== 10 && bytes[p] !== 13) p++;
    this.pos = p;
  }

  /**
   * A decimal number. Up to 15 digits and a power of ten up to 22 one multiplication or division is correctly rounded
   * (Clinger 1990, "How to read floating point numbers accurately", from memory); all others go through Number().
   */
  number(): number {
    const { bytes } = this;
    const end = bytes.length;
    let p = this.pos;
    while (p < end && (bytes[p] === 32 || bytes[p] === 9)) p++;
    this.tokenStart = p;
    const negative = p < end && bytes[p] === 45;
    if (negative) p++;
    let mantissa = 0;
    let digits = -p;
    while (p < end && isDigit(bytes[p])) mantissa = mantissa * 10 + (bytes[p++] - 48);
    digits += p;
    let decimals = 0;
    if (p < end && bytes[p] === 46) {
      p++;
      decimals = -p;
      while (p < end && isDigit(bytes[p])) mantissa = mantissa * 10 + (bytes[p++] - 48);
      decimals += p;
      digits += decimals;
    }
    if (digits === 0 || digits > 15 || (p < end && bytes[p] > 32)) return this.#longNumber();
    this.pos = p;
    if (decimals > 0) mantissa /= POWERS_OF_TEN[decimals];
    return negative ? -mantissa : mantissa;
  }

  /** A whole number from 0 to 999,999,999; -1 for anything else. */
  index(): number {
    const { bytes } = this;
    const end = bytes.length;
    let p = this.pos;
    while (p < end && (bytes[p] === 32 || bytes[p] === 9)) p++;
    this.tokenStart = p;
    let value = 0;
    while (p < end && p - this.tokenStart < 9 && isDigit(bytes[p])) value = value * 10 + (bytes[p++] - 48);
    if (p === this.tokenStart || (p < end && bytes[p] > 32)) return -1;
    this.pos = p;
    return value;
  }

  /** Moves past one token; false when the line has no more. */
  skipToken(): boolean {
    if (this.atLineEnd()) return false;
    const { bytes } = this;
    let p = this.pos;
    this.tokenStart = p;
    while (p < bytes.length && bytes[p] > 32) p++;
    // A stray control character counts as a token, so that a scan always moves on.
    this.pos = p === this.tokenStart ? p + 1 : p;
    return true;
  }

  /** The token at `tokenStart` as text, at most 64 characters; empty at a line's end. */
  token(): string {
    const { bytes } = this;
    let p = this.tokenStart;
    while (p < bytes.length && bytes[p] > 32 && p - this.tokenStart < 64) p++;
    return String.fromCharCode(...bytes.subarray(this.tokenStart, p));
  }

  /** "line 12": where the scanner stands, counted only when somebody asks. 10, 13 10 and 13 each end a line. */
  place(): string {
    let line = 1;
    for (let p = 0; p < this.tokenStart && p < this.bytes.length; p++) {
      const byte = this.bytes[p];
      if (byte === 10 || (byte === 13 && this.bytes[p + 1] !== 10)) line++;
    }
    return `line ${line}`;
  }

  #longNumber(): number {
    const text = this.token();
    if (!/^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(text) || text.length >= 64) return Number.NaN;
    this.pos = this.tokenStart + text.length;
    return Number(text);
  }
}

function isDigit(byte: number): boolean {
  return byte >= 48 && byte <= 48 + 9;
}
