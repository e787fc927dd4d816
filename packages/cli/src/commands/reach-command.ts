import type { Command } from 'commander';
import { HELP } from '../help-texts.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';

const gather = (value: string, before: readonly string[] | undefined): string[] => [...(before ?? []), value];

/** Arguments and options of `barwright reach`; its work is loaded when it runs. */
export function addReach(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  command
    .description(HELP.reach.about)
    .argument('<pattern>', 'a *.pattern.json file, or a *.bench.json alone')
    .argument('[back]', 'a *.back.json file')
    .option('--setup <file>', 'load, layers, position and limits: a *.setup.json file')
    .option('--set <key=value>', 'change one value of pattern or setup, as with fit; may be repeated', gather)
    .option('--map <file>', 'draw the map, as .svg or .png')
    .option('--nodes <count>', 'nodes across and up the map, odd, 5 to 41 (default: 15)')
    .option('--out <file>', 'also write the JSON document here')
    .addHelpText('after', HELP.reach.after)
    .action(async (pattern, back, options) =>
      done(await (await import('./reach.ts')).reach(pattern, back, options, io)),
    );
}
