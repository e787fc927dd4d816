import { dirname, join, resolve } from 'node:path';
import {
  type Axis,
  type BackDocument,
  buildBack,
  type CleanStepReport,
  cleanScan,
  InputError,
  proposeScan,
  READ_LIMITS,
  readMesh,
  remeasureDue,
  type ScanHints,
  type ScanProposal,
  type ScanUnit,
  scanDocumentFromProposal,
  type TracingQuestion,
  withoutOwner,
} from '@barwright/geometry';
import { type InputFile, looksLikeJson, readInput } from '../files/input-file.ts';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import { readLandmarks, readMeasured, readRecord } from '../inputs/back-flags.ts';
import { namingFile } from '../inputs/read-documents.ts';
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
  /** What a clean-up would find; the document names the mesh as it is. */
  readonly cleaning: readonly CleanStepReport[];
  /** Of tracings. */
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
  const isTracings = looksLikeJson(input) || /\.(csv|svg)$/i.test(input.file);
  const prepared = namingFile(input.file, () =>
    isTracings ? readTracingsInput(input, flags, io.today) : prepareScan(input, flags, io.today),
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

function prepareScan(input: InputFile, flags: BackFlags, today: string): Prepared {
  if (flags.answer !== undefined) {
    throw new InputError({
      code: 'usage',
      field: '--answer',
      expected: 'tracings with this option',
      remedy: 'A scan has no questions to answer: leave the option out',
    });
  }
  const raw = readMesh(input.bytes, input.file);
  if (raw.kind === 'points') throw bareCloud();
  const hints: ScanHints = {
    ...(flags.unit === undefined ? {} : { unit: flags.unit }),
    ...(flags.tail === undefined ? {} : { tail: flags.tail }),
    ...(flags.right === undefined ? {} : { right: flags.right }),
    ...(flags.up === undefined ? {} : { up: flags.up }),
    landmarks: readLandmarks(flags.landmark ?? []),
  };
  const { measured, isDateOpen } = readMeasured(flags, today);
  const record = readRecord(flags);
  const proposal = proposeScan(raw, hints);
  const open = [
    // A document may go without landmarks: they are then proposed wherever it is used, and said to be.
    ...proposal.toConfirm.filter((part) => !part.startsWith('landmarks.')),
    ...(isDateOpen ? ['measured.on'] : []),
  ];
  const isAccepted = flags.acceptProposals === true;
  const cleaning = cleanScan(raw.mesh, undefined, { unitMm: UNIT_MM[proposal.unit.value] }).steps;
  const result = {
    ...{ kind: 'scan' as const, proposal, cleaning, questions: [] },
    toConfirm: isAccepted ? [] : open,
  };
  if (!isAccepted && open.length > 0) return { result, document: null, beside: null, warnings: raw.warnings };
  const document = scanDocumentFromProposal(isAccepted ? proposal : givenOnly(proposal), {
    name: flags.name ?? input.file.replace(/\.[^.]*$/, ''),
    mesh: input.file,
    measured,
    ...(record === null ? {} : { record }),
  });
  const built = buildBack(document, { mesh: raw.mesh });
  return { result, document, beside: input, warnings: [...raw.warnings, ...built.warnings] };
}

const UNIT_MM: Readonly<Record<ScanUnit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };

/** The proposal with only those landmarks that a person marked. */
function givenOnly(proposal: ScanProposal): ScanProposal {
  const landmarks = Object.fromEntries(
    Object.entries(proposal.landmarks).map(([name, part]) => [name, part.given ? part : { ...part, value: null }]),
  );
  return { ...proposal, landmarks: landmarks as ScanProposal['landmarks'] };
}

function bareCloud(): InputError {
  return new InputError({
    code: 'unsupported',
    got: 'points without triangles',
    expected: 'a surface of triangles',
    remedy: 'Export the scan as a mesh from the program that took it',
  });
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
