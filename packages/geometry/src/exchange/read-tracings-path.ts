import { TRACINGS_LIMITS } from './read-tracings-csv.ts';
import { refuse } from './refuse.ts';

type Point = [number, number];

const VALUES: Readonly<Record<string, number>> = { M: 2, L: 2, H: 1, V: 1, C: 6, Q: 4, Z: 0 };
const TOKEN = /\s*,?\s*([A-Za-z]|[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?)/y;
/** Pieces into which each curved stretch is cut. */
const PIECES = 16;
const MOST_CHARACTERS = 1_000_000;

/**
 * Points along a path's outline data (SVG 1.1 ch. 8, from memory): M L H V C Q Z, absolute and relative. One stroke only;
 * curved stretches are cut into 16.
 */
export function pathPoints(data: string, place: string): Point[] {
  if (data.length > MOST_CHARACTERS) refuse('too-long', place, data, 'a shorter path', 'Simplify the path.');
  const points: Point[] = [];
  const add = (p: Point): void => {
    if (points.length === TRACINGS_LIMITS.maxPoints) {
      const expected = `at most ${TRACINGS_LIMITS.maxPoints} points in a curve`;
      refuse('too-large', place, `${points.length + 1} points`, expected, 'Simplify the path.');
    }
    points.push(p);
  };
  let command = '';
  for (const { letter, values } of commands(data, place)) {
    const upper = letter.toUpperCase();
    const here = points[points.length - 1] ?? [0, 0];
    const from: Point = letter === upper ? [0, 0] : here;
    if (command === '' && upper !== 'M')
      refuse('malformed', place, letter, 'a path that starts with M', 'Save it again.');
    if (upper === 'M' && points.length > 0) {
      refuse('unsupported', place, 'a second M', 'one stroke for each curve', 'Break the path apart.');
    }
    command = upper;
    if (upper === 'H') add([from[0] + values[0]!, here[1]]);
    else if (upper === 'V') add([here[0], from[1] + values[0]!]);
    else if (upper === 'Z') add([...points[0]!]);
    else if (upper === 'M' || upper === 'L') add([from[0] + values[0]!, from[1] + values[1]!]);
    else addBend([here, ...pairs(values, from)], add);
  }
  return points;
}

/** Points of a polyline's `points`. */
export function polylinePoints(data: string, place: string): Point[] {
  return data.trim() === '' ? [] : pathPoints(`M${data}`, place);
}

function pairs(values: readonly number[], from: Point): Point[] {
  const out: Point[] = [];
  for (let k = 0; k < values.length; k += 2) out.push([from[0] + values[k]!, from[1] + values[k + 1]!]);
  return out;
}

/** De Casteljau's construction. */
function addBend(control: readonly Point[], add: (p: Point) => void): void {
  for (let piece = 1; piece <= PIECES; piece++) {
    const t = piece / PIECES;
    let row = control;
    while (row.length > 1) {
      const before = row;
      row = before.slice(1).map((b, i): Point => {
        const a = before[i]!;
        return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
      });
    }
    add(row[0]!);
  }
}

/** Commands with one set of values each; repeated values repeat the command, after M as L. */
function* commands(data: string, place: string): Generator<{ letter: string; values: number[] }> {
  let at = 0;
  let letter = '';
  let values: number[] = [];
  let fresh = false;
  const end = data.trimEnd().length;
  while (at < end) {
    TOKEN.lastIndex = at;
    const match = TOKEN.exec(data);
    if (match === null) {
      return refuse('malformed', place, data.slice(at, at + 20), 'a command or a number', 'Save the path again.');
    }
    at = TOKEN.lastIndex;
    const token = match[1]!;
    if (/^[A-Za-z]/.test(token)) {
      if (fresh || values.length > 0)
        refuse('malformed', place, token, `more values for ${letter}`, 'Save the path again.');
      letter = token;
      const count = VALUES[letter.toUpperCase()];
      if (count === undefined) {
        return refuse(
          'unsupported',
          place,
          token,
          'a path of M, L, H, V, C, Q and Z',
          'Turn the object into a plain path.',
        );
      }
      if (count === 0) yield { letter, values: [] };
      fresh = count > 0;
      continue;
    }
    const count = VALUES[letter.toUpperCase()];
    if (!count) return refuse('malformed', place, token, 'a command before its values', 'Save the path again.');
    values.push(Number(token));
    if (!(Math.abs(Number(token)) < 1e7))
      refuse('out-of-range', place, token, 'values within 10000000', 'Check the file.');
    if (values.length < count) continue;
    yield { letter, values };
    values = [];
    fresh = false;
    if (letter === 'M') letter = 'L';
    if (letter === 'm') letter = 'l';
  }
  if (fresh || values.length > 0)
    refuse('truncated', place, 'the end of the path', `more values for ${letter}`, 'Save it again.');
}
