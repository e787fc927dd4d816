import { TextScanner } from './text-scanner.ts';

const BACKSLASH = 92;

/** A copy in which every line continued with a backslash is joined to the next by blanks; lines keep their numbers only roughly. */
export function joinContinuedLines(bytes: Uint8Array): Uint8Array {
  if (!bytes.includes(BACKSLASH)) return bytes;
  const joined = bytes.slice();
  for (let at = joined.indexOf(BACKSLASH); at >= 0; at = joined.indexOf(BACKSLASH, at + 1)) {
    const next = joined[at + 1];
    if (next !== 10 && next !== 13) continue;
    joined.fill(32, at, next === 13 && joined[at + 2] === 10 ? at + 3 : at + 2);
  }
  return joined;
}

/** Scanner over an OBJ file, past a byte order mark. */
export function objScanner(bytes: Uint8Array): TextScanner {
  const hasMark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  return new TextScanner(joinContinuedLines(bytes), hasMark ? 3 : 0);
}
