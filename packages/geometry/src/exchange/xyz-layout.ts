import { decodeAscii } from './ascii-bytes.ts';
import { refuse } from './refuse.ts';

/** How the lines of a point file are laid out. */
export interface XyzLayout {
  readonly separator: ' ' | ',' | ';' | '\t';
  /** Columns on every line. */
  readonly columns: number;
  /** Column of x, y, z. */
  readonly xyz: readonly [number, number, number];
  /** Columns of red, green, blue, where a header names them or the six columns x y z r g b could be meant; else empty. */
  readonly rgb: readonly number[];
  /** Points that a first line of one whole number promises, or null. */
  readonly promised: number | null;
  /** Byte where the first line of numbers begins. */
  readonly bodyStart: number;
  readonly hasHeader: boolean;
}

const REMEDY = 'Save points as lines of x y z, decimals with a point.';
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;
const LOOKED_AT = 4096;

/** Reads the layout off the first lines of a text; null when they are no points at all. */
export function xyzLayout(bytes: Uint8Array): XyzLayout | null {
  const start = decodeAscii(bytes.subarray(0, LOOKED_AT));
  if (start.includes('\0')) return null;
  const lines = firstLines(start);
  const bodyAt = lines.findIndex(({ text }, i) => startsData(text, i === 0 && lines.length > 1));
  if (bodyAt < 0 || bodyAt > 2) return null;
  const separator = separatorOf(lines[bodyAt].text);
  const before = lines.slice(0, bodyAt).map(({ text }) => text);
  const counts = before.filter((text) => /^\d{1,15}$/.test(text));
  const headers = before.filter((text) => !/^\d{1,15}$/.test(text));
  if (counts.length > 1 || headers.length > 1) return null;
  const columns = splitLine(lines[bodyAt].text, separator).length;
  const roles = headers.length === 0 ? usualRoles(columns) : namedRoles(headers[0], columns);
  if (roles === null) return null;
  const promised = counts.length === 0 ? null : Number(counts[0]);
  return { separator, columns, ...roles, promised, bodyStart: lines[bodyAt].at, hasHeader: headers.length > 0 };
}

/** Splits at the separator; runs of blanks, or of tabs and blanks, count as one. */
function splitLine(text: string, separator: XyzLayout['separator']): string[] {
  if (separator === ' ' || separator === '\t') return text.trim().split(/[ \t]+/);
  return text
    .replace(/[,;]\s*$/, '')
    .split(separator)
    .map((word) => word.trim());
}

interface Line {
  readonly text: string;
  readonly at: number;
}

/** Lines with content, comments of # passed over; the last one may be cut by the window and is left out unless it is all there is. */
function firstLines(start: string): Line[] {
  const lines: Line[] = [];
  const pattern = /[^\r\n]+/g;
  for (let match = pattern.exec(start); match !== null; match = pattern.exec(start)) {
    const cut = match.index + match[0].length === LOOKED_AT && lines.length > 0;
    const text = match[0].replace(/^\xef\xbb\xbf/, '').trim();
    if (text !== '' && !text.startsWith('#') && !cut) lines.push({ text, at: match.index + match[0].indexOf(text) });
  }
  return lines;
}

/** Three numbers or more, however separated; a lone whole number on the first line is a count instead. */
function startsData(text: string, mayBeCount: boolean): boolean {
  if (mayBeCount && /^\d+$/.test(text)) return false;
  const words = text.split(/[ \t;]+|,(?!\d)/).flatMap((word) => (NUMBER.test(word) ? [word] : word.split(',')));
  const filled = words.map((word) => word.trim()).filter((word) => word !== '');
  // Of columns beyond the third only a header knows what they are; words may stand there.
  return filled.length >= 3 && filled.filter((word) => NUMBER.test(word) || /^[+-]?(nan|inf)/i.test(word)).length >= 3;
}

/** Asks rather than guesses where a comma could part decimals. */
function separatorOf(text: string): XyzLayout['separator'] {
  if (text.includes(';')) return ';';
  const separator = text.includes('\t') ? '\t' : ' ';
  if (!text.includes(',')) return separator;
  const hasBlanks = /[ \t]/.test(text);
  if (!hasBlanks || !/,[^ \t]/.test(text)) return ',';
  return refuse('ambiguous', 'first line of numbers', text, 'commas that part either columns or decimals', REMEDY);
}

function usualRoles(columns: number): Pick<XyzLayout, 'xyz' | 'rgb'> | null {
  if (columns < 3) return null;
  return { xyz: [0, 1, 2], rgb: columns === 6 ? [3, 4, 5] : [] };
}

/** Roles by the header's words, in any case, with or without quotes and comment marks. */
function namedRoles(header: string, columns: number): Pick<XyzLayout, 'xyz' | 'rgb'> | null {
  const names = header
    .replace(/^\/\//, '')
    .split(/[\s,;]+/)
    .map((word) => word.replace(/["']/g, '').toLowerCase())
    .filter((word) => word !== '');
  const [x, y, z] = ['x', 'y', 'z'].map((name) => names.indexOf(name));
  if (x < 0 || y < 0 || z < 0) return null;
  if (names.length !== columns) {
    refuse('inconsistent', 'header', `${names.length} names`, `${columns} names, as there are columns`, REMEDY);
  }
  if (names.includes('curve')) {
    const remedy = 'Read it as tracings, or take the curve column out to read it as points.';
    refuse('unsupported', 'header', header, 'points, not curves by name', remedy);
  }
  const rgb = [
    ['r', 'g', 'b'],
    ['red', 'green', 'blue'],
  ].map((set) => set.map((name) => names.indexOf(name)));
  return { xyz: [x, y, z], rgb: rgb.find((found) => found.every((at) => at >= 0)) ?? [] };
}
