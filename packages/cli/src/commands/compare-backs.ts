import {
  type BackChange,
  type BackDocument,
  type BackMotion,
  type BackSurface,
  buildBack,
  changeOfBack,
  drawChangeMap,
  InputError,
  type KeepOut,
  type RegionChange,
} from '@barwright/geometry';
import type { InputFile } from '../files/input-file.ts';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import { namingFile, readBackFile } from '../inputs/read-documents.ts';
import type { Io } from '../io.ts';
import { CAUTIONS } from '../output/cautions.ts';
import { changesCsv } from '../output/compare-backs-csv.ts';
import { printChanges } from '../output/compare-backs-print.ts';
import { envelope, type Warning } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { remeasureWarnings } from '../output/remeasure-warning.ts';
import { mapFormat } from '../output/render-map.ts';

export const CHANGES_RESULT_SCHEMA = 'barwright/changes-result/1';

export interface ChangesFlags {
  readonly map?: string;
  readonly align: 'best-fit' | 'landmarks';
  readonly mapEnds?: readonly [number, number];
  readonly changed?: readonly string[];
  readonly out?: string;
  readonly samples?: string;
  readonly withOwner?: boolean;
}

/** One of the two backs, as the result names it. */
export interface ComparedBack {
  readonly name: string;
  readonly kind: BackDocument['kind'];
  readonly on: string;
  readonly by: string;
  readonly uncertaintyMm: number;
  readonly uncertaintyDeg: number;
  /** null unless asked for. */
  readonly owner: string | null;
}

type Laid = Omit<BackMotion, 'heightMm'>;

export interface ChangesResult {
  readonly before: ComparedBack;
  readonly after: ComparedBack;
  readonly align: 'best fit' | 'landmarks';
  /** How the later back was moved for the best fit. */
  readonly motion: Laid;
  readonly regions: readonly RegionChange[];
  /** Of the compared grid. */
  readonly comparedShare: number;
  readonly shownShare: number;
  readonly largest: { readonly xMm: number; readonly yMm: number; readonly differenceMm: number } | null;
  readonly doubts: readonly string[];
  readonly sentences: { readonly bestFit: readonly string[]; readonly landmarks: readonly string[] };
}

/** `barwright changes`. Exit 0, or 1 when the two may not be one horse. */
export async function changes(beforeName: string, afterName: string, flags: ChangesFlags, io: Io): Promise<0 | 1> {
  if (flags.map !== undefined) mapFormat(flags.map);
  const keepOut = (flags.changed ?? []).map(readKeepOut);
  const before = await readBackFile(io.folder, beforeName);
  const after = await readBackFile(io.folder, afterName);
  refuseSame(before.input, after.input);
  const inputs = [before, after].flatMap(({ input, scan }) => [input, scan?.input ?? null]);
  const places = await placesOf(flags, inputs, io);
  io.stderr(`Laying ${plainText(after.document.name)} on ${plainText(before.document.name)} ...\n`);
  const [a, b] = [surfaceOf(before), surfaceOf(after)];
  const change = changeOfBack({ back: a, facts: before.document }, { back: b, facts: after.document }, keepOut);
  const result = resultOf(change, flags, [before.document, after.document]);
  const warnings = warningsOf(a, b, after.document, io);
  const text = documentText(envelope(CHANGES_RESULT_SCHEMA, inputs, result, warnings));
  const shown = flags.align === 'landmarks' ? change.landmarks : change.bestFit;
  const files: OutputFile[] = [];
  if (places.out !== null) files.push({ path: places.out, content: text });
  if (places.samples !== null) files.push({ path: places.samples, content: changesCsv(shown) });
  if (places.map !== null) files.push({ path: places.map, content: await mapOf(change, a, b, result, flags, io) });
  await writeWhole(files);
  printChanges(result, warnings, io);
  for (const { path } of files) io.stderr(`Wrote ${plainText(path)}\n`);
  io.stdout(text);
  return result.doubts.length === 0 ? 0 : 1;
}

type Read = Awaited<ReturnType<typeof readBackFile>>;

const surfaceOf = ({ input, document, scan }: Read): BackSurface =>
  namingFile(input.file, () => buildBack(document, scan === null ? {} : { mesh: scan.mesh }));

/** A file with itself shows nothing but zeros, which could be taken for a horse that did not change. */
function refuseSame(before: InputFile, after: InputFile): void {
  if (before.sha256 !== after.sha256) return;
  throw new InputError({
    code: 'inconsistent',
    file: after.file,
    got: before.path === after.path ? 'the same file twice' : `the same content as ${before.file}`,
    expected: 'two measurings of one horse',
    remedy: 'Name the earlier back first and the later one second',
  });
}

async function placesOf(flags: ChangesFlags, inputs: readonly (InputFile | null)[], io: Io) {
  const taken = inputs.flatMap((input) => (input === null ? [] : [input.path]));
  const place = async (option: string, name: string | undefined): Promise<string | null> => {
    if (name === undefined) return null;
    const path = await outputPath(io.folder, name, option, taken);
    taken.push(path);
    return path;
  };
  const out = await place('--out', flags.out);
  const samples = await place('--samples', flags.samples);
  return { out, samples, map: await place('--map', flags.map) };
}

/** `0,200,-200,-40`: from and to behind the blade edge, from and to across, + to the horse's right. */
function readKeepOut(text: string): KeepOut {
  const parts = text
    .split(',')
    .map((part) => (/^\s*[+-]?\d{1,4}(\.\d{1,3})?\s*$/.test(part) ? Number(part) : Number.NaN));
  const [fromXMm, toXMm, fromYMm, toYMm] = parts as [number, number, number, number];
  if (parts.length === 4 && fromXMm < toXMm && fromYMm < toYMm) return { fromXMm, toXMm, fromYMm, toYMm };
  throw new InputError({
    code: 'usage',
    field: '--changed',
    got: JSON.stringify(text).slice(0, 60),
    expected: 'four numbers in mm: from and to behind the blade edge, from and to across (+ right), each rising',
    remedy: 'Write, for example, --changed=0,200,-200,0 for the left side behind the blade',
  });
}

function resultOf(
  change: BackChange,
  flags: ChangesFlags,
  documents: readonly [BackDocument, BackDocument],
): ChangesResult {
  const align = flags.align === 'landmarks' ? 'landmarks' : 'best fit';
  const { rows } = align === 'landmarks' ? change.landmarks : change.bestFit;
  const known = rows.filter(({ differenceMm }) => !Number.isNaN(differenceMm));
  const shown = known.filter(({ differenceMm, limitMm }) => Math.abs(differenceMm) > limitMm);
  const far = known.reduce<(typeof known)[number] | null>(
    (most, row) => (most === null || Math.abs(row.differenceMm) > Math.abs(most.differenceMm) ? row : most),
    null,
  );
  const { heightMm: _, ...motion } = change.bestFit.motion;
  const [before, after] = documents.map((document) => comparedBack(document, flags.withOwner === true));
  return {
    ...{ before: before!, after: after!, align, motion, regions: change.regions },
    comparedShare: known.length / rows.length,
    shownShare: known.length === 0 ? 0 : shown.length / known.length,
    largest: far === null ? null : { xMm: far.xMm, yMm: far.yMm, differenceMm: far.differenceMm },
    doubts: change.doubts,
    sentences: { bestFit: change.bestFit.sentences, landmarks: change.landmarks.sentences },
  };
}

function comparedBack({ name, kind, measured, record }: BackDocument, withOwner: boolean): ComparedBack {
  const { on, by, uncertaintyMm, uncertaintyDeg } = measured;
  return { name, kind, on, by, uncertaintyMm, uncertaintyDeg, owner: withOwner ? (record?.owner ?? null) : null };
}

function warningsOf(before: BackSurface, after: BackSurface, document: BackDocument, io: Io): Warning[] {
  const of = (which: string, back: BackSurface): Warning[] => [
    ...back.warnings.map((sentence) => ({ field: which, sentence })),
    ...(back.landmarks.proposed.length === 0
      ? []
      : [
          {
            field: `${which}.landmarks`,
            sentence: `Nobody marked ${back.landmarks.proposed.join(', ')} on the ${which} back: what the landmarks show rests on a proposal.`,
          },
        ]),
  ];
  const sameDay =
    before.measured.on === after.measured.on
      ? [{ field: null, sentence: 'Both were measured on one day: what differs is how well measuring repeats.' }]
      : [];
  return [
    ...of('before', before),
    ...of('after', after),
    ...sameDay,
    ...remeasureWarnings('after', document, io.today),
  ];
}

async function mapOf(
  change: BackChange,
  before: BackSurface,
  after: BackSurface,
  result: ChangesResult,
  flags: ChangesFlags,
  io: Io,
): Promise<string | Uint8Array> {
  const owner = result.after.owner ?? result.before.owner;
  const svg = drawChangeMap(
    change,
    { before, after },
    {
      drawnOn: io.today,
      cautions: CAUTIONS,
      align: result.align,
      ...(flags.mapEnds === undefined ? {} : { scale: { lowerMm: flags.mapEnds[0], fullerMm: flags.mapEnds[1] } }),
      ...(owner === null ? {} : { owner }),
    },
  );
  if (mapFormat(flags.map!) === 'svg') return svg;
  const { renderPng } = await import('../output/render-png.ts');
  return renderPng(svg);
}
