/** Printable ASCII of one line: control characters become blanks, anything else "?", so that no file is torn apart by a name. */
export function oneLine(text: string): string {
  return [...text].map((c) => (c < ' ' || c === '\x7f' ? ' ' : c > '~' ? '?' : c)).join('');
}

export function encodeAscii(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  return bytes;
}

/** Bytes as text, one character a byte. */
export function decodeAscii(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return text;
}
