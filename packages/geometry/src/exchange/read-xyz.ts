import { NumberList } from './number-list.ts';
import { precisionWarnings } from './precision-warnings.ts';
import { MAX_COORDINATE, type RawMesh, READ_LIMITS, type ReadLimits } from './raw-mesh.ts';
import { checkSize, checkTriangleCount, namingFile, refuse, refuseCoordinate } from './refuse.ts';
import { TextScanner } from './text-scanner.ts';
import { type XyzLayout, xyzLayout } from './xyz-layout.ts';

const REMEDY = 'Save points as lines of x y z, decimals with a point.';
const MOST_COLUMNS = 64;

/**
 * Reads points from text: lines of `x y z`, `x y z r g b` or more columns, parted by blanks, tabs, commas or semicolons, after an
 * optional header line and an optional line with their number; # begins a comment line (common practice, no source). Columns
 * beyond the named ones are passed over. Commas that could part decimals are asked about.
 * @returns a point cloud, coordinates exactly as in the file.
 * @throws InputError for lines unlike the first, numbers that aren't finite, fewer points than promised, or over the limits.
 */
export function readXyz(bytes: Uint8Array, fileName: string, limits: ReadLimits = READ_LIMITS): RawMesh {
  return namingFile(fileName, () => {
    checkSize(bytes, limits);
    const layout = xyzLayout(bytes);
    if (layout === null) refuse('malformed', 'line 1', 'no line of three numbers', 'lines of x y z', REMEDY);
    checkLayout(layout, bytes.length, limits);
    const body = new XyzBody(bytes, layout, limits);
    body.read();
    return body.result();
  });
}

function checkLayout({ columns, promised }: XyzLayout, size: number, limits: ReadLimits): void {
  if (columns > MOST_COLUMNS) refuse('too-large', 'line 1', columns, `at most ${MOST_COLUMNS} columns`, REMEDY);
  if (promised === null) return;
  checkTriangleCount(promised / 3, limits, 'line 1');
  // The shortest line of all is "0 0 0" and its end.
  if (promised > size / 5) refuse('truncated', 'line 1', `${size} bytes`, `${promised} points`, REMEDY);
}

class XyzBody {
  readonly #layout: XyzLayout;
  readonly #limits: ReadLimits;
  readonly #scan: TextScanner;
  readonly #points = new NumberList();
  readonly #colours = new NumberList();
  readonly #row: Float64Array;
  readonly #roleOf: Int8Array;
  #coloured: boolean;
  /** A point or an exponent anywhere: then commas do part columns. */
  #sawPoint: boolean;

  constructor(bytes: Uint8Array, layout: XyzLayout, limits: ReadLimits) {
    this.#layout = layout;
    this.#limits = limits;
    this.#scan = new TextScanner(withBlanks(bytes, layout.separator), layout.bodyStart);
    this.#row = new Float64Array(layout.columns);
    this.#coloured = layout.rgb.length === 3;
    this.#roleOf = new Int8Array(layout.columns);
    for (const column of [...layout.xyz, ...layout.rgb]) this.#roleOf[column] = 1;
    for (const column of layout.xyz) this.#roleOf[column] = 2;
    this.#sawPoint = layout.separator !== ',' || bytes.includes(46, layout.bodyStart);
  }

  read(): void {
    const scan = this.#scan;
    const { xyz, rgb } = this.#layout;
    const row = this.#row;
    while (scan.startLine()) {
      if (scan.bytes[scan.pos] === 35) {
        scan.skipLine();
        continue;
      }
      this.#readLine();
      const [x, y, z] = [row[xyz[0]], row[xyz[1]], row[xyz[2]]];
      const fits = Math.abs(x) <= MAX_COORDINATE && Math.abs(y) <= MAX_COORDINATE && Math.abs(z) <= MAX_COORDINATE;
      if (!fits) refuseCoordinate(this.#place(), x, y, z);
      this.#points.push3(x, y, z);
      checkTriangleCount(this.#points.length / 9, this.#limits, 'points');
      if (!this.#coloured) continue;
      this.#coloured = rgb.every((column) => Number.isInteger(row[column]) && row[column] >= 0 && row[column] <= 255);
      if (this.#coloured) this.#colours.push3(row[rgb[0]], row[rgb[1]], row[rgb[2]]);
    }
  }

  result(): RawMesh {
    this.#checkCount();
    const positions = this.#points.finish();
    const colours = this.#coloured ? Uint8Array.from(this.#colours.finish()) : null;
    const warnings = precisionWarnings(positions);
    const left = this.#layout.columns - 3 - (colours === null ? 0 : 3);
    if (left > 0) warnings.push(`${left} columns beside the coordinates were not read.`);
    return { kind: 'points', mesh: { positions, triangles: new Uint32Array(0) }, colours, format: 'xyz', warnings };
  }

  #readLine(): void {
    const scan = this.#scan;
    for (let column = 0; column < this.#layout.columns; column++) {
      const role = this.#roleOf[column];
      if (role > 0) this.#row[column] = scan.number();
      if (role === 2 && Number.isNaN(this.#row[column])) this.#refuseNumber();
      if (role === 2) continue;
      const passed = role === 1 && !Number.isNaN(this.#row[column]);
      if (!passed && !scan.skipToken()) this.#refuseColumns(`${column} columns`);
    }
    if (!scan.atLineEnd()) this.#refuseColumns('more columns');
  }

  #checkCount(): void {
    const count = this.#points.length / 3;
    const { promised, columns, hasHeader } = this.#layout;
    if (promised !== null && promised !== count) {
      const code = count < promised ? 'truncated' : 'inconsistent';
      refuse(code, 'line 1', `${count} points`, `the ${promised} points that it promises`, REMEDY);
    }
    // "1,5,2,5,3,5" is three numbers in one country and six in another.
    if (this.#sawPoint || columns < 6 || hasHeader) return;
    const expected = 'columns parted so that a comma can mean one thing only';
    refuse(
      'ambiguous',
      'file',
      'commas and no decimal point',
      expected,
      'Add a header line, or use blanks or semicolons.',
    );
  }

  #place(): string {
    return `point ${this.#points.length / 3}, ${this.#scan.place()}`;
  }

  #refuseColumns(got: string): never {
    const expected = `${this.#layout.columns} columns, as on the first line of numbers`;
    refuse(got === 'more columns' ? 'malformed' : 'truncated', this.#place(), got, expected, REMEDY);
  }

  #refuseNumber(): never {
    const word = this.#scan.token();
    if (word === '') refuse('truncated', this.#place(), 'the end of the line', 'three coordinates', REMEDY);
    if (/^[+-]?(nan|inf)/i.test(word)) refuse('not-a-number', this.#place(), word, 'finite coordinates', REMEDY);
    const isDecimal = /^[+-]?\d*,\d/.test(word);
    const remedy = isDecimal ? 'Is the comma a decimal one? Write decimals with a point.' : REMEDY;
    refuse(isDecimal ? 'ambiguous' : 'syntax', this.#place(), word, 'three coordinates', remedy);
  }
}

/** The text with its separators as blanks; an empty column shows as a missing one. */
function withBlanks(bytes: Uint8Array, separator: XyzLayout['separator']): Uint8Array {
  if (separator === ' ' || separator === '\t') return bytes;
  const mark = separator.charCodeAt(0);
  return bytes.map((byte) => (byte === mark ? 32 : byte));
}
