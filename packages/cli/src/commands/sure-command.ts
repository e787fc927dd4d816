import type { Command } from 'commander';
import { HELP } from '../help-texts.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';

const gather = (value: string, before: readonly string[] | undefined): string[] => [...(before ?? []), value];

/** Arguments and options of `barwright sure`; its work is loaded when it runs. */
export function addSure(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  command
    .description(HELP.sure.about)
    .argument('<pattern>', 'a *.pattern.json file, or a *.bench.json alone')
    .argument('[back]', 'a *.back.json file')
    .option('--setup <file>', 'load, layers, position and limits: a *.setup.json file')
    .option('--set <key=value>', 'change one value of pattern or setup, as with fit; may be repeated', gather)
    .option('--draws <count>', 'horses to draw, 20 to 5000 (default: 200)')
    .option('--seed <number>', 'the same seed draws the same horses, 0 to 4294967295 (default: 1)')
    .option('--out <file>', 'also write the JSON document here')
    .addHelpText('after', HELP.sure.after)
    .action(async (pattern, back, options) => done(await (await import('./sure.ts')).sure(pattern, back, options, io)));
}
