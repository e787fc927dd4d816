import { basename } from 'node:path';
import {
  barTemperatureC,
  buildTree,
  CAUTIONS,
  drawTipSection,
  resolvePattern,
  type Setup,
  solidsOf,
  type TipDimensions,
  type TipMaterial,
  type Tree,
  tipDimensions,
} from '@barwright/geometry';
import { outputPath, writeWhole } from '../files/write-whole.ts';
import { namingFile, readPatternFile, readSetupFile } from '../inputs/read-documents.ts';
import { applyChanges, readChange } from '../inputs/settings.ts';
import type { Io } from '../io.ts';
import { envelope } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { PROGRAM } from '../output/program-version.ts';
import { mapFormat } from '../output/render-map.ts';
import { cell, tableText, wrapText } from '../output/table.ts';

export const DRAW_RESULT_SCHEMA = 'barwright/draw-result/1';

export interface DrawFlags {
  readonly sheet: 'tip';
  readonly side: 'left' | 'right';
  readonly out: string;
  readonly setup?: string;
  readonly set?: readonly string[];
}

export interface DrawResult {
  readonly sheet: 'tip';
  readonly side: 'left' | 'right';
  readonly pattern: string;
  readonly dimensions: TipDimensions;
  readonly materials: readonly TipMaterial[];
  /** Name of the file written. */
  readonly written: string;
}

/** What a maker has to keep in mind beside a drawing of a tip. */
const OF_TIPS = ['shapes-only', 'strength', 'flexible-tips', 'trying-out', 'shop'];

/** `barwright draw`: a sheet for the maker. */
export async function draw(name: string, flags: DrawFlags, io: Io): Promise<0> {
  const format = mapFormat(flags.out, '--out');
  const pattern = await readPatternFile(io.folder, name);
  const setup = await readSetupFile(io.folder, flags.setup);
  const changes = (flags.set ?? []).map(readChange);
  const changed = applyChanges({ pattern: pattern.document, setup: setup.document }, changes);
  const path = await outputPath(io.folder, flags.out, '--out', []);
  const resolved = namingFile(pattern.input.file, () => resolvePattern(changed.pattern));
  const tree = buildTree(resolved);
  const materials = materialsOf(tree, changed.setup);
  const dimensions = namingFile(pattern.input.file, () => tipDimensions(tree, flags.side));
  const svg = drawTipSection(tree, {
    side: flags.side,
    version: versionWords(changes.map(([key, value]) => `${key} = ${value}`)),
    drawnOn: io.today,
    materials,
    cautions: CAUTIONS.filter(({ id }) => OF_TIPS.includes(id)).map(({ full }) => full),
  });
  const content = format === 'svg' ? svg : await (await import('../output/render-png.ts')).renderPng(svg);
  await writeWhole([{ path, content }]);
  const result: DrawResult = {
    ...{ sheet: flags.sheet, side: flags.side, pattern: resolved.name },
    ...{ dimensions, materials, written: basename(path) },
  };
  const warnings = resolved.remarks.map(({ field, sentence }) => ({ field, sentence }));
  print(result, io);
  for (const { sentence } of warnings) io.stderr(wrapText(plainText(`Note: ${sentence}`), '  '));
  io.stdout(documentText(envelope(DRAW_RESULT_SCHEMA, [pattern.input, setup.input], result, warnings)));
  return 0;
}

function materialsOf(tree: Tree, setup: Setup): TipMaterial[] {
  const solids = solidsOf(tree, setup);
  return (['lower', 'tip', 'bar'] as const).map((place) => {
    const { material, state } = solids[place];
    return {
      ...{ place, name: material.name, temperatureC: barTemperatureC(setup.warmth), hours: setup.flex.hours },
      ...{ alongMPa: state.alongMPa, rangeMPa: material.rangeMPa, source: material.source },
    };
  });
}

/** The program's version, and what was changed from the pattern's file. */
function versionWords(changes: readonly string[]): string {
  const program = `${PROGRAM.name} ${PROGRAM.version}`;
  return changes.length === 0 ? program : `${program}. Changed from the file: ${changes.join('; ')}`;
}

function print({ dimensions: d, materials, pattern, side, written }: DrawResult, io: Io): void {
  io.stderr(`Wrote ${plainText(written)}: ${plainText(pattern)}, front tip of the ${side} bar\n`);
  io.stderr(
    tableText([
      ['tip mm', 'root mm', 'edge mm', 'lower at root mm', 'lift mm', "fork's foot mm"],
      [
        ...[d.tipLengthMm, d.rootThicknessMm, d.edgeThicknessMm, d.rootLowerMm, d.liftMm].map((value) =>
          cell(value, 1),
        ),
        `${cell(d.forkFootFromMm, 0)} to ${cell(d.forkFootToMm, 0)}`,
      ],
    ]),
  );
  io.stderr(
    tableText([
      ['place', 'material', 'deg C', 'MPa along'],
      ...materials.map((m) => [m.place, plainText(m.name), cell(m.temperatureC, 1), cell(m.alongMPa, 0)]),
    ]),
  );
  io.stderr(wrapText('Print the .svg at 100 % and measure the bar: 100 mm.', '  '));
}
