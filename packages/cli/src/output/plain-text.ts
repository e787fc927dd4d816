/** Characters that steer a terminal or turn the reading direction (Unicode Cc, and Cf bidirectional controls). */
const STEERING = /[\p{Cc}\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]/gu;

/** Text of a file made harmless for a terminal: steering characters are shown as escapes, but those in `keep`. */
export function plainText(text: string, keep = ''): string {
  return text.replace(STEERING, (c) =>
    keep.includes(c) ? c : `\\u${c.codePointAt(0)!.toString(16).padStart(4, '0')}`,
  );
}
