import { dirname, join, resolve } from 'node:path';
import {
  type Axis,
  type BackDocument,
  InputError,
  READ_LIMITS,
  remeasureDue,
  type ScanProposal,
  type ScanUnit,
  type TracingQuestion,
  withoutOwner,
} from '@barwright/geometry';
import { type InputFile, looksLikeJson, readInput } from '../files/input-file.ts';
import { readMeshFile } from '../files/load-decoders.ts';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { type CleaningStep, prepareScan } from '../inputs/read-scan-input.ts';
import { readTracingsInput } from '../inputs/read-tracings-input.ts';
import type { Io } from '../io.ts';
import { envelope, type Warning } from '../output/envelope.ts';
import { printBack } from '../output/print-back.ts';
import { documentText } from '../output/print-document.ts';
import type { ByHand } from '../output/print-numbers.ts';

export const BACK_RESULT_SCHEMA = 'barwright/back-result/1';

export interface BackFlags {
  readonly out?: string;
  readonly unit?: ScanUnit;
  readonly tail?: Axis;
  readonly right?: Axis;
  readonly up?: Axis;
  readonly landmark?: readonly string[];
  readonly mirrored?: boolean;
  /** True: all steps. */
  readonly clean?: string | true;
  readonly pointSpacing?: string;
  readonly acceptProposals?: boolean;
  readonly answer?: readonly string[];
  readonly name?: string;
  readonly by?: string;
  readonly on?: string;
  readonly uncertaintyMm?: string;
  readonly uncertaintyDeg?: string;
  readonly owner?: string;
  readonly horse?: string;
  readonly surface?: 'bare' | 'over pad';
  readonly how?: string;
  readonly notes?: string;
  readonly withOwner?: boolean;
}

export interface BackResult {
  readonly kind: 'scan' | 'tracings' | 'by hand';
  /** Of a scan; null for tracings. */
  readonly proposal: ScanProposal | null;
  /** What a clean-up finds, and which steps of it the document asks for; the mesh file stays as it is. */
  readonly cleaning: readonly CleaningStep[];
  /** Of tracings, or about sides of a scan that look swapped. */
  readonly questions: readonly TracingQuestion[];
  /** What has to be said or accepted before the document is written. */
  readonly toConfirm: readonly string[];
  /** Of a back made from a few numbers taken by hand. */
  readonly byHand: ByHand | null;
  /** The document, without its owner's name unless that was asked for; null while something is open. */
  readonly document: BackDocument | null;
  /** Names of the files written. */
  readonly written: readonly string[];
  readonly remeasure: { readonly due: boolean; readonly onIso: string; readonly sentence: string } | null;
}

/** A document that is ready, or what it waits for. */
export interface Prepared {
  readonly result: Omit<BackResult, 'written' | 'remeasure' | 'document' | 'byHand'>;
  readonly document: BackDocument | null;
  /** The mesh to lie beside the document. */
  readonly beside: InputFile | null;
  readonly warnings: readonly string[];
}

/** `barwright back`: proposals for what a scan's file leaves out, questions about tracings, and the document once settled. */
export async function back(name: string, flags: BackFlags, io: Io): Promise<0 | 1> {
  const input = await readInput(io.folder, name, 'file', READ_LIMITS.maxBytes);
  const out = flags.out === undefined ? null : await placeOf(flags.out, [input.path], io);
  const isTracings = looksLikeTracings(input);
  const raw = isTracings ? null : await readMeshFile(input);
  const prepared = namingFile(input.file, () =>
    raw === null ? readTracingsInput(input, flags, io.today) : prepareScan(input, raw, flags, io.today),
  );
  const { document } = prepared;
  const remeasure = document === null ? null : namingFile(input.file, () => remeasureDue(document, io.today));
  const files = document === null || out === null ? [] : await filesFor(out, document, prepared.beside);
  await writeWhole(files);
  const result: BackResult = {
    ...prepared.result,
    byHand: null,
    document: document === null || flags.withOwner === true ? document : withoutOwner(document),
    written: files.map(({ path }) => path.slice(dirname(path).length + 1)),
    remeasure,
  };
  const warnings: Warning[] = prepared.warnings.map((sentence) => ({ field: null, sentence }));
  const file: InputFile = { ...input, role: isTracings ? 'file' : 'mesh' };
  printBack(result, input.file, warnings, io);
  io.stdout(documentText(envelope(BACK_RESULT_SCHEMA, [file], result, warnings)));
  return document === null ? 1 : 0;
}

/** Scanners write points as CSV too: tracings say which curve a point belongs to. */
function looksLikeTracings(input: InputFile): boolean {
  if (looksLikeJson(input) || /\.svg$/i.test(input.file)) return true;
  const start = new TextDecoder('latin1').decode(input.bytes.subarray(0, 1024));
  return /\.csv$/i.test(input.file) && /\bcurve\b/i.test(start);
}

/** Checked before any work is done: it has to be found again as a back document. */
export async function placeOf(name: string, read: readonly string[], io: Io): Promise<string> {
  if (!/\.back\.json$/i.test(name)) {
    throw new InputError({
      code: 'usage',
      field: '--out',
      got: JSON.stringify(name).slice(0, 60),
      expected: 'a name that ends in .back.json',
      remedy: 'Write, for example, --out tuesday.back.json',
    });
  }
  return outputPath(io.folder, name, '--out', read);
}

/** The document and, in another folder than the scan's, a copy of the scan; an equal copy there is left as it is. */
async function filesFor(out: string, document: BackDocument, beside: InputFile | null): Promise<OutputFile[]> {
  const written: OutputFile[] = [{ path: out, content: documentText(document) }];
  if (beside === null || dirname(resolve(beside.path)) === dirname(out)) return written;
  const place = join(dirname(out), beside.file);
  const there = await readInput('/', place, 'mesh', READ_LIMITS.maxBytes).catch((error: unknown) => {
    if (error instanceof InputError && error.code === 'missing') return null;
    throw error;
  });
  if (there === null) return [...written, { path: place, content: beside.bytes }];
  if (there.sha256 === beside.sha256) return written;
  throw new InputError({
    code: 'path',
    file: beside.file,
    field: '--out',
    got: 'another file of this name beside the document',
    expected: "a folder without another file of the scan's name",
    remedy: 'Rename one of them, or write the document to another folder',
  });
}
