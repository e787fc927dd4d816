import { type TracingsBackDocument, tracingsBackSchema } from '../back/index.ts';
import { InputError } from '../numeric/index.ts';
import { checkDocument } from '../pattern/index.ts';
import { namingFile, refuse } from './refuse.ts';

type Curve = TracingsBackDocument['curves'][number];

/** The platform's own; the language library of this package does not declare it. */
declare const TextDecoder: new (label: string, options: { fatal: boolean }) => { decode(bytes: Uint8Array): string };

/** What a file of curves doesn't say. */
export interface TracingsFileOptions {
  readonly name: string;
  readonly unit: TracingsBackDocument['unit'];
  readonly axes?: TracingsBackDocument['axes'];
  readonly landmarks?: TracingsBackDocument['landmarks'];
  readonly measured: TracingsBackDocument['measured'];
}

export interface ReadTracings {
  readonly document: TracingsBackDocument;
  /** What was left out or looked odd, one sentence each. */
  readonly warnings: readonly string[];
}

export const TRACINGS_LIMITS = Object.freeze({ maxBytes: 8_000_000, maxCurves: 60, maxPoints: 5000 });

const COLUMNS = ['curve', 'x', 'y', 'z'];
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?$/;
const LARGEST = 1e7;

/**
 * Reads traced curves from CSV: columns curve, x, y, z in any order, named by the first line or by a comment ending in
 * "columns: curve,x,y,z"; `#` starts a comment line; names may stand in double quotes. A curve that runs further along the
 * horse than across is lengthwise.
 * @returns coordinates as in the file, as a document of three-number points with the unit and axes given
 * @throws InputError, naming line and column
 */
export function readTracingsCsv(bytes: Uint8Array, fileName: string, options: TracingsFileOptions): ReadTracings {
  return namingFile(fileName, () => {
    const lines = decodeText(bytes).split(/\r\n|\n|\r/);
    const byName = new Map<string, [number, number, number][]>();
    let columns: number[] | null = null;
    lines.forEach((line, i) => {
      const place = `line ${i + 1}`;
      const text = line.trim();
      if (text === '') return;
      if (text.startsWith('#')) {
        const said = /\bcolumns:\s*(.+)$/i.exec(text.slice(0, 400));
        if (said !== null && columns === null) columns = columnOrder(splitRow(said[1]!, place), place);
        return;
      }
      const cells = splitRow(text, place);
      if (columns === null) columns = columnOrder(cells, place);
      else if (byName.size === 0 && isHeader(cells)) columns = columnOrder(cells, place);
      else addRow(byName, cells, columns, place);
    });
    if (byName.size === 0) refuse('empty', 'file', 'no points', 'rows of curve,x,y,z', 'Export the tracings again.');
    return finishDocument(curvesOf(byName, options), options, []);
  });
}

/** UTF-8 text, a byte order mark left out. */
export function decodeText(bytes: Uint8Array): string {
  if (bytes.length === 0) refuse('empty', 'file', '0 bytes', 'a file with content', 'Export the tracings again.');
  if (bytes.length > TRACINGS_LIMITS.maxBytes) {
    const expected = `at most ${TRACINGS_LIMITS.maxBytes} bytes`;
    refuse(
      'too-large',
      'file',
      `${bytes.length} bytes`,
      expected,
      'Thin the tracings out: a point each 10 mm is plenty.',
    );
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return refuse(
      'malformed',
      'file',
      'bytes that are no UTF-8 text',
      'text in UTF-8',
      'Save the file again as UTF-8.',
    );
  }
}

/** The curves as a checked document. */
export function finishDocument(
  curves: readonly Curve[],
  options: TracingsFileOptions,
  warnings: string[],
): ReadTracings {
  const { name, unit, axes, landmarks, measured } = options;
  const json = {
    schema: 'barwright/back/1',
    kind: 'tracings',
    name,
    unit,
    ...(axes === undefined ? {} : { axes }),
    curves,
    ...(landmarks === undefined ? {} : { landmarks }),
    measured,
  };
  return { document: checkDocument(tracingsBackSchema, json, { schemaName: json.schema }), warnings };
}

const isHeader = (cells: readonly string[]): boolean => cells.map((c) => c.trim().toLowerCase()).includes('curve');

function columnOrder(cells: readonly string[], place: string): number[] {
  const names = cells.map((cell) => cell.trim().toLowerCase());
  const order = COLUMNS.map((name) => names.indexOf(name));
  if (names.length !== COLUMNS.length || order.includes(-1)) {
    refuse(
      'missing',
      place,
      names.join(','),
      'a first line naming the columns curve,x,y,z',
      'Add that line to the file.',
    );
  }
  return order;
}

function addRow(
  byName: Map<string, [number, number, number][]>,
  cells: readonly string[],
  columns: readonly number[],
  place: string,
): void {
  if (cells.length !== COLUMNS.length) {
    const remedy = 'Write decimals with a point, and names with commas in double quotes.';
    refuse('malformed', place, `${cells.length} values`, `${COLUMNS.length} values`, remedy);
  }
  const name = cells[columns[0]!]!.trim();
  if (name === '' || name.length > 80) {
    refuse('malformed', `${place}, curve`, name, 'a curve name of 1 to 80 characters', 'Name the curve of this point.');
  }
  const [x, y, z] = [1, 2, 3].map((k) => numberIn(cells[columns[k]!]!, `${place}, ${COLUMNS[k]}`));
  let points = byName.get(name);
  if (points === undefined) {
    if (byName.size === TRACINGS_LIMITS.maxCurves) {
      const expected = `at most ${TRACINGS_LIMITS.maxCurves} curves`;
      refuse('too-large', place, name, expected, 'Leave curves out.');
    }
    points = [];
    byName.set(name, points);
  }
  if (points.length === TRACINGS_LIMITS.maxPoints) {
    const expected = `at most ${TRACINGS_LIMITS.maxPoints} points in a curve`;
    refuse('too-large', place, name, expected, 'Thin the curve out: a point each 10 mm is plenty.');
  }
  points.push([x!, y!, z!]);
}

function numberIn(text: string, place: string): number {
  const trimmed = text.trim();
  const value = trimmed.length <= 40 && NUMBER.test(trimmed) ? Number(trimmed) : Number.NaN;
  if (Number.isNaN(value)) refuse('not-a-number', place, text, 'a decimal number', 'Correct this value.');
  if (Math.abs(value) > LARGEST) {
    refuse('out-of-range', place, text, `values within +/-${LARGEST}`, 'Check the number and its unit.');
  }
  return value;
}

/** Cells of one row; a quoted cell may hold commas, and doubled quotes for one. */
function splitRow(text: string, place: string): string[] {
  if (text.length > 1000) refuse('too-long', place, text, 'a line of at most 1000 characters', 'Check the line ends.');
  const cells: string[] = [];
  let at = 0;
  for (;;) {
    while (text[at] === ' ' || text[at] === '\t') at++;
    if (text[at] !== '"') {
      const comma = text.indexOf(',', at);
      cells.push(text.slice(at, comma < 0 ? text.length : comma));
      if (comma < 0) return cells;
      at = comma + 1;
      continue;
    }
    const quoted = /"((?:[^"]|"")*)"[ \t]*(,|$)/y;
    quoted.lastIndex = at;
    const match = quoted.exec(text);
    if (match === null) {
      return refuse(
        'malformed',
        place,
        text.slice(at),
        'a closing double quote before the comma',
        'Correct the quotes.',
      );
    }
    cells.push(match[1]!.replaceAll('""', '"'));
    if (match[2] === '') return cells;
    at = quoted.lastIndex;
  }
}

function curvesOf(byName: ReadonlyMap<string, [number, number, number][]>, options: TracingsFileOptions): Curve[] {
  const axis = (name: 'tail' | 'right'): number =>
    'xyz'.indexOf((options.axes?.[name] ?? (name === 'tail' ? '+x' : '+y'))[1]!);
  const spread = (points: readonly (readonly number[])[], k: number): number =>
    points.reduce((high, p) => Math.max(high, p[k]!), Number.NEGATIVE_INFINITY) -
    points.reduce((low, p) => Math.min(low, p[k]!), Number.POSITIVE_INFINITY);
  return [...byName].map(([id, points]) => {
    if (points.length < 3) {
      throw new InputError({
        code: 'degenerate',
        field: `curve ${id}`,
        got: `${points.length} points`,
        expected: 'at least three points in each curve',
        remedy: 'Leave this curve out, or trace more of it.',
      });
    }
    const lengthwise = spread(points, axis('tail')) > spread(points, axis('right'));
    return { id, kind: lengthwise ? 'lengthwise' : 'cross', points };
  });
}
