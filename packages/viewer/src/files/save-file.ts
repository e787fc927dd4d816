/** Hands a document to the browser to be saved, in its own format. */
export function saveJson(document_: unknown, fileName: string): void {
  const blob = new Blob([`${JSON.stringify(document_, null, 2)}\n`], { type: 'application/json' });
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** A name that every file system takes: `Post 18 wide` becomes `post-18-wide.pattern.json`. */
export function fileNameFor(name: string, kind: 'pattern' | 'back' | 'setup' | 'lesson' | 'riding'): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return `${plain === '' ? kind : plain}.${kind}.json`;
}
