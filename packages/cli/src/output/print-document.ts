import type { Io } from '../io.ts';

/** Text of a document: JSON can't hold NaN or infinities, they become null; nothing is rounded. */
export function documentText(document: unknown): string {
  const text = JSON.stringify(document, (_, value) => (value === undefined ? null : value), 2);
  // Rows of plain numbers on one line each, so that matrices stay readable.
  return `${text.replace(/\[\n\s+(-?[\d.eE+-]+(?:,\n\s+-?[\d.eE+-]+)*)\n\s+\]/g, (_, row: string) => `[${row.replace(/,\n\s+/g, ', ')}]`)}\n`;
}

/** The one JSON document of a command. */
export function printDocument(document: unknown, io: Io): void {
  io.stdout(documentText(document));
}
