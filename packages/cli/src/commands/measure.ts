import {
  type BarMeasures,
  buildTree,
  type FileAxis,
  InputError,
  JSON_LIMITS,
  type MeshUnit,
  measureBarMesh,
  measureTree,
  parseJson,
  READ_LIMITS,
  readPattern,
  readQuantity,
  resolvePattern,
  setPatternValues,
  type TreeMeasures,
} from '@barwright/geometry';
import { type InputFile, looksLikeJson, readInput } from '../files/input-file.ts';
import { readMeshFile } from '../files/load-decoders.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { readChange } from '../inputs/settings.ts';
import type { Io } from '../io.ts';
import { envelope, type Warning } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { cell, tableText, wrapText } from '../output/table.ts';

export const MEASURE_RESULT_SCHEMA = 'barwright/measure-result/1';

export interface MeasureFlags {
  readonly set?: readonly string[];
  readonly axes?: string;
  readonly unit?: MeshUnit;
  readonly side?: 'both' | 'left' | 'right';
  readonly midplane?: string;
  readonly bearingLine?: string;
}

/** `barwright measure`: angles, spread, twist, rock, crown and flare of a pattern, or of the bars of a mesh. */
export async function measure(name: string, flags: MeasureFlags, io: Io): Promise<0> {
  const input = await readInput(io.folder, name, 'file', READ_LIMITS.maxBytes);
  const { measures, warnings } = looksLikeJson(input) ? ofPattern(input, flags) : await ofMesh(input, flags);
  const file: InputFile = { ...input, role: measures.source };
  const remarks = [...measures.remarks, ...(measures.left?.remarks ?? []), ...(measures.right?.remarks ?? [])];
  const all = [...warnings, ...[...new Set(remarks)].map((sentence) => ({ field: null, sentence }))];
  print(measures, input.file, all, io);
  io.stdout(documentText(envelope(MEASURE_RESULT_SCHEMA, [file], measures, all)));
  return 0;
}

interface Measured {
  readonly measures: TreeMeasures;
  readonly warnings: readonly Warning[];
}

const MESH_FLAGS = ['axes', 'unit', 'side', 'midplane', 'bearingLine'] as const;

function ofPattern(input: InputFile, flags: MeasureFlags): Measured {
  const odd = MESH_FLAGS.find((flag) => flags[flag] !== undefined);
  if (odd !== undefined) throw wrongKind(odd, 'a mesh', 'A pattern knows this by itself: leave the option out');
  const document = readPattern(parseJson(input.bytes, input.file, JSON_LIMITS), input.file);
  return namingFile(input.file, () => {
    const changed = setPatternValues(document, (flags.set ?? []).map(readChange));
    const resolved = resolvePattern(changed);
    const warnings = resolved.remarks.map(({ field, sentence }) => ({ field, sentence }));
    return { measures: measureTree(buildTree(resolved)), warnings };
  });
}

async function ofMesh(input: InputFile, flags: MeasureFlags): Promise<Measured> {
  if (flags.set !== undefined) throw wrongKind('set', 'a pattern', 'A mesh has no values to change');
  const { mesh, warnings } = await readMeshFile(input);
  const lengthOf = (text: string, field: string): number => readQuantity(text, { field, unit: 'mm' });
  const options = {
    ...(flags.axes === undefined ? {} : { axes: readAxes(flags.axes) }),
    ...(flags.unit === undefined ? {} : { unit: flags.unit }),
    ...(flags.side === undefined ? {} : { side: flags.side }),
    ...(flags.midplane === undefined ? {} : { midplaneMm: lengthOf(flags.midplane, '--midplane') }),
    ...(flags.bearingLine === undefined ? {} : { bearingLineYMm: lengthOf(flags.bearingLine, '--bearing-line') }),
  };
  const measures = namingFile(input.file, () => measureBarMesh(mesh, options));
  return { measures, warnings: warnings.map((sentence) => ({ field: null, sentence })) };
}

function wrongKind(flag: string, expected: string, remedy: string): InputError {
  return new InputError({ code: 'usage', field: `--${flag}`, expected: `${expected} with this option`, remedy });
}

function readAxes(text: string): { tail: FileAxis; right: FileAxis; up: FileAxis } {
  const axes = text.split(',').map((axis) => axis.trim());
  if (axes.length === 3 && axes.every((axis) => /^[+-][xyz]$/.test(axis))) {
    const [tail, right, up] = axes as [FileAxis, FileAxis, FileAxis];
    return { tail, right, up };
  }
  throw new InputError({
    code: 'usage',
    field: '--axes',
    got: JSON.stringify(text).slice(0, 60),
    expected: 'the file axes that point to the tail, to the right and up, such as -x,-y,+z',
    remedy: 'Look at the mesh and name the axis that points each way',
  });
}

function print(measures: TreeMeasures, file: string, warnings: readonly Warning[], io: Io): void {
  io.stderr(`${plainText(file)}: ${measures.source}, measured\n`);
  const { left, right } = measures;
  const isMirrored = left !== null && right !== null && sameFigures(left, right);
  if (left !== null && !isMirrored) io.stderr(barTable(left, 'left bar'));
  if (right !== null) io.stderr(barTable(right, isMirrored ? 'each bar (left mirrors right)' : 'right bar'));
  if (measures.pairs.length > 0) {
    io.stderr('\n  both bars\n');
    const rows = measures.pairs.map((p) => [
      plainText(p.name),
      cell(p.bMm, 0),
      cell(p.includedAngleDeg, 1),
      cell(p.spreadMm, 1),
    ]);
    io.stderr(tableText([['station', 'b mm', 'included angle deg', 'spread mm'], ...rows]));
  }
  for (const { sentence } of warnings) io.stderr(wrapText(plainText(`Note: ${sentence}`), '  '));
  io.stderr('  How each figure is defined is in the JSON document: makers use one word for several measures.\n');
}

const sameFigures = (left: BarMeasures, right: BarMeasures): boolean =>
  JSON.stringify({ ...left, side: 'right' }) === JSON.stringify(right);

function barTable(bar: BarMeasures, title: string): string {
  const stations = bar.stations.map((s) => [
    plainText(s.name),
    cell(s.bMm, 0),
    cell(s.slopeDeg, 1),
    cell(s.widthMm, 1),
    s.crownRadiusMm === null ? 'flat' : cell(s.crownRadiusMm, 0),
    cell(s.crownHeightMm, 1),
  ]);
  const rock = bar.rock.map((r) => [
    r.line,
    cell(r.chordMm, 0),
    cell(r.sagMm, 1),
    r.radiusMm === null ? 'straight' : cell(r.radiusMm, 0),
  ]);
  const { flareFront: front, flareRear: rear } = bar;
  return [
    `\n  ${title}: length ${cell(bar.overallLengthMm, 1)} mm, bearing ${cell(bar.bearingLengthMm, 1)} mm, bar twist ${cell(bar.twistDeg, 1)} deg (${cell(bar.twistDegPer100Mm, 1)} per 100 mm)\n`,
    `  flare lift front ${cell(front.flareLiftMm, 1)} mm over ${cell(front.flareZoneFromStartMm, 0)} mm, rear ${cell(rear.flareLiftMm, 1)} mm over ${cell(rear.flareZoneFromStartMm, 0)} mm\n`,
    tableText([['station', 'b mm', 'slope deg', 'width mm', 'crown mm', 'crown height mm'], ...stations]),
    tableText([['rock along', 'chord mm', 'sag mm', 'radius mm'], ...rock]),
  ].join('');
}
