/** Rows of text with the first column to the left and the rest to the right, two blanks apart, indented by two. */
export function tableText(rows: readonly (readonly string[])[]): string {
  const widths: number[] = [];
  for (const row of rows) for (const [i, cell] of row.entries()) widths[i] = Math.max(widths[i] ?? 0, cell.length);
  const pad = (cell: string, i: number): string => (i === 0 ? cell.padEnd(widths[0]!) : cell.padStart(widths[i]!));
  return rows.map((row) => `  ${row.map(pad).join('  ').trimEnd()}\n`).join('');
}

/** A sentence broken at blanks to lines of at most `width`, every line indented. */
export function wrapText(text: string, indent: string, width = 96): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > width - indent.length) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  lines.push(line);
  return lines.map((part) => `${indent}${part}\n`).join('');
}

/** Fixed decimals without a minus before zero; `-` where there is no data. */
export function cell(value: number | null, decimals: number): string {
  if (value === null || !Number.isFinite(value)) return '-';
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text;
}

/** A number as somebody gave it, without the long tail of one that came from pounds or inches. */
export const shown = (value: number): string => String(Number(value.toFixed(2)));
