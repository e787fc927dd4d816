import { type Command, Option } from 'commander';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';

const ABOUT = 'Draw a sheet for the maker: the section of a front tip, dimensioned, in true size.';

const AFTER = `
Example: the tip of the layered Post as warm as after an hour on the horse
  barwright draw examples/post-layered.pattern.json --sheet tip --set setup.warmth.minutes=60 --out post-tip.svg

Print the .svg at 100 % and measure the bar: 100 mm. Shown are the plies by material, tip length, thickness at root and
edge, lift over the unflared surface and the fork's foot. Stiffnesses are of the materials' table or of the setup, at the
setup's warmth and hours under load; they are not of the piece in hand.`;

/** Options of `barwright draw`; its work is loaded when it runs. */
export function addDraw(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  command
    .description(ABOUT)
    .argument('<pattern>', 'a *.pattern.json file')
    .addOption(new Option('--sheet <kind>', 'what to draw').choices(['tip']).makeOptionMandatory())
    .requiredOption('--out <file>', 'name of the drawing, .svg or .png')
    .addOption(new Option('--side <side>', 'which bar').choices(['left', 'right']).default('right'))
    .addHelpText('after', AFTER)
    .action(async (pattern, options) => done(await (await import('./draw.ts')).draw(pattern, options, io)));
}
