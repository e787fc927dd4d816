/** A field of a CSV row: text in quotes, numbers as the shortest text that gives them back, empty where there is none. */
export function csvField(value: number | string | boolean | null): string {
  if (value === null) return '';
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  if (typeof value === 'boolean') return value ? '1' : '0';
  return `"${value.replaceAll('"', '""')}"`;
}

/** A whole file: head and rows, a line each. */
export function csvText(head: string, rows: readonly (readonly (number | string | boolean | null)[])[]): string {
  return `${[head, ...rows.map((row) => row.map(csvField).join(','))].join('\n')}\n`;
}
