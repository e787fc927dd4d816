import { basename, extname } from 'node:path';
import {
  InputError,
  type SheetPaper,
  type SheetTile,
  sheetsWidthMm,
  sheetTile,
  tracingSheet,
} from '@barwright/geometry';
import { type OutputFile, outputPath, writeWhole } from '../files/write-whole.ts';
import type { Io } from '../io.ts';
import { envelope } from '../output/envelope.ts';
import { plainText } from '../output/plain-text.ts';
import { documentText } from '../output/print-document.ts';
import { wrapText } from '../output/table.ts';

export const SHEET_RESULT_SCHEMA = 'barwright/sheet-result/1';

export interface SheetFlags {
  readonly paper: SheetPaper;
  readonly tiles: number;
  readonly out: string;
}

export interface SheetResult {
  readonly paper: SheetPaper;
  readonly tiles: number;
  /** Width of the taped sheets. */
  readonly widthMm: number;
  /** Geometry of every sheet in the frame of the taped ones: origin where midline and level line cross, [right, up]. */
  readonly sheets: readonly SheetTile[];
  /** Names of the files written. */
  readonly written: readonly string[];
}

/** `barwright sheet`: sheets to trace on, one file each. */
export async function sheet(flags: SheetFlags, io: Io): Promise<0> {
  const { paper, tiles } = flags;
  const format = formatOf(flags.out);
  const pages = tracingSheet({ paper, tiles });
  const paths: string[] = [];
  for (const i of pages.keys()) {
    const name = pages.length === 1 ? flags.out : numbered(flags.out, i + 1);
    paths.push(await outputPath(io.folder, name, '--out', paths));
  }
  const files: OutputFile[] = [];
  for (const [i, svg] of pages.entries()) files.push({ path: paths[i]!, content: await contentOf(svg, format) });
  await writeWhole(files);
  const result: SheetResult = {
    paper,
    tiles,
    widthMm: sheetsWidthMm(paper, tiles),
    sheets: pages.map((_, i) => sheetTile(paper, tiles, i + 1)),
    written: paths.map((path) => basename(path)),
  };
  io.stderr(`Wrote ${plainText(result.written.join(', '))}\n`);
  io.stderr(
    wrapText('Print at 100 % and measure the bar on each sheet: 100 mm. Else print again without scaling.', '  '),
  );
  io.stdout(documentText(envelope(SHEET_RESULT_SCHEMA, [], result, [])));
  return 0;
}

async function contentOf(svg: string, format: 'svg' | 'png'): Promise<string | Uint8Array> {
  if (format === 'svg') return svg;
  const { renderPng } = await import('../output/render-png.ts');
  return renderPng(svg);
}

/** sheet.svg to sheet-2.svg. */
function numbered(name: string, number: number): string {
  const ending = extname(name);
  return `${name.slice(0, name.length - ending.length)}-${number}${ending}`;
}

function formatOf(name: string): 'svg' | 'png' {
  const ending = extname(name).toLowerCase();
  if (ending === '.svg' || ending === '.png') return ending === '.svg' ? 'svg' : 'png';
  throw new InputError({
    code: 'unsupported',
    field: '--out',
    got: JSON.stringify(ending),
    expected: 'a file name that ends in .svg or .png',
    remedy: 'Change the ending',
  });
}
