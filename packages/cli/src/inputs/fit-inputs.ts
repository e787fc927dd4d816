import type { BackDocument, FitDocuments, PatternDocument, Setup } from '@barwright/geometry';
import type { InputFile } from '../files/input-file.ts';
import type { ScanMesh } from './read-documents.ts';
import type { Change } from './settings.ts';

/** The files of one fit and the documents they became after --set. */
export interface FitInputs {
  readonly pattern: { readonly input: InputFile; readonly document: PatternDocument };
  readonly back: { readonly input: InputFile; readonly document: BackDocument; readonly scan: ScanMesh | null };
  readonly setup: { readonly input: InputFile | null; readonly document: Setup };
  readonly changes: readonly Change[];
  readonly title: string;
  readonly documents: FitDocuments;
}

/** Every file that was read, in a fixed order. */
export function listInputs({ pattern, back, setup }: FitInputs): (InputFile | null)[] {
  return [pattern.input, back.input, back.scan?.input ?? null, setup.input];
}
