import { MOST_TILES, SHEET_PAPERS } from '@barwright/geometry';
import { type Command, InvalidArgumentError, Option } from 'commander';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';

const ABOUT = 'Draw sheets to trace a back on, with marks by which a photo of them is read.';

const AFTER = `
Example: three sheets of A4 for a whole section, to be taped side by side: sheet-1.svg, sheet-2.svg, sheet-3.svg
  barwright sheet --paper a4 --tiles 3 --out sheet.svg

Print at 100 %, without fitting to the page, and measure the bar: 100 mm. Cut and tape on the blue lines. Trace one
section on them, seen from behind the horse, the spirit level along the level line; write in the station and the side.
Then photograph it from 1 m or more, all marks in the picture. For how high sections lie to each other, trace the
spine lengthwise as well. A .png is for looking at: print the .svg, which knows its size.`;

/** Options of `barwright sheet`; its work is loaded when it runs. */
export function addSheet(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  command
    .description(ABOUT)
    .addOption(new Option('--paper <size>', 'paper in the printer').choices(SHEET_PAPERS).makeOptionMandatory())
    .option('--tiles <count>', `sheets side by side, 1 to ${MOST_TILES}; 3 hold a section of 590 mm`, readTiles, 3)
    .requiredOption('--out <file>', 'name of the sheets, .svg or .png; several get -1, -2 ... before the ending')
    .addHelpText('after', AFTER)
    .action(async (options) => done(await (await import('./sheet.ts')).sheet(options, io)));
}

function readTiles(text: string): number {
  const count = Number(text);
  if (/^\d$/.test(text) && count >= 1 && count <= MOST_TILES) return count;
  throw new InvalidArgumentError(`Expected a whole number from 1 to ${MOST_TILES}.`);
}
