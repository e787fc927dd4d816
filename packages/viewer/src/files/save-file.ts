/** Hands a document to the browser to be saved, in its own format. */
export const saveJson = (document_: unknown, fileName: string): void =>
  saveText(`${JSON.stringify(document_, null, 2)}\n`, 'application/json', fileName);

/** Hands text to the browser to be saved as a file of its kind. */
export function saveText(text: string, type: string, fileName: string): void {
  saveBlob(new Blob([text], { type }), fileName);
}

export function saveBlob(blob: Blob, fileName: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** A name that every file system takes: `Post 18 wide` becomes `post-18-wide.pattern.json`. */
export function fileNameFor(
  name: string,
  kind: 'bench' | 'pattern' | 'back' | 'setup' | 'lesson' | 'riding' | 'map' | 'picture',
  ending = 'json',
): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return `${plain === '' ? kind : plain}.${kind}.${ending}`;
}
