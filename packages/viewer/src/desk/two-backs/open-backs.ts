import type { InputErrorDetails } from '@barwright/geometry';
import { kindOfFile } from '../../files/kind-of-file.ts';
import { type ReadFile, sortFiles } from '../../files/sort-files.ts';
import { TWO_BACKS_TEXTS } from '../../look/texts/two-backs.ts';
import { loadEditor } from '../../state/actions.ts';
import type { OpenedBack } from '../../state/documents.ts';

export interface OpenedBacks {
  readonly backs: readonly { readonly fileName: string; readonly back: OpenedBack }[];
  readonly refused: readonly InputErrorDetails[];
}

/** Backs among the files that were picked, scans with their meshes. Nothing on the bench changes. */
export async function readBacks(files: Iterable<File>): Promise<OpenedBacks> {
  const editor = await loadEditor();
  const refused: InputErrorDetails[] = [];
  const read: ReadFile[] = [];
  for (const file of files) {
    const kind = await kindOfFile(file);
    if (kind === 'mesh') read.push({ kind, fileName: file.name, bytes: new Uint8Array(await file.arrayBuffer()) });
    else if (kind !== 'json') refused.push(notABack(file.name));
    else {
      const text = await file.text();
      const parsed = editor.attempt(() => editor.parseJson(text, file.name));
      if (parsed.ok) read.push({ kind, fileName: file.name, json: parsed.value });
      else refused.push(parsed.error);
    }
  }
  const sorted = sortFiles(read);
  refused.push(...sorted.refused);
  for (const { fileName } of [...sorted.patterns, ...sorted.setups, ...sorted.lessons, ...sorted.looseMeshes])
    refused.push(notABack(fileName));
  const backs = sorted.backs.flatMap(({ fileName, json, mesh }) => {
    const checked = editor.attempt(() => editor.readBack(json, fileName));
    if (checked.ok) return [{ fileName, back: { name: checked.value.name, json, mesh } }];
    refused.push(checked.error);
    return [];
  });
  return { backs, refused };
}

const notABack = (file: string): InputErrorDetails => ({
  code: 'unsupported',
  file,
  ...TWO_BACKS_TEXTS.refusal,
});
