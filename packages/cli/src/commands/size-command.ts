import type { Command } from 'commander';
import { HELP } from '../help-texts.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';

/** Arguments and options of `barwright size`; its work is loaded when it runs. */
export function addSize(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  command
    .description(HELP.size.about)
    .argument('<rider>', 'a *.rider.json file')
    .argument('<shelf>', 'a *.shelf.json file, its pattern beside it')
    .argument('<back>', 'a *.back.json file')
    .option('--setup <file>', 'saddle, set position, limits and rules: a *.setup.json file')
    .option('--samples <count>', 'cells of both undersides of every tree, 200 to 50000 (default: 3000)')
    .option('--out <file>', 'also write the JSON document here')
    .option('--csv <file>', 'write every tree as a row')
    .addHelpText('after', HELP.size.after)
    .action(async (rider, shelf, back, options) =>
      done(await (await import('./size.ts')).size(rider, shelf, back, options, io)),
    );
}
