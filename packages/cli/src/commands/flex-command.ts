import type { Command } from 'commander';
import { HELP } from '../help-texts.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';

const gather = (value: string, before: readonly string[] | undefined): string[] => [...(before ?? []), value];

/** Arguments and options of `barwright flex`; its work is loaded when it runs. */
export function addFlex(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  command
    .description(HELP.flex.about)
    .argument('<pattern>', 'a *.pattern.json file, or a *.bench.json alone')
    .argument('[back]', 'a *.back.json file')
    .option('--setup <file>', 'rider, layers, warmth, bars and limits: a *.setup.json file')
    .option('--set <key=value>', 'change one value of the pattern or of the setup; may be repeated', gather)
    .option('--out <file>', 'also write the JSON document here')
    .option('--csv <file>', 'write every variant as a row')
    .addHelpText('after', HELP.flex.after)
    .action(async (pattern, back, options) => {
      const { flex } = await import('./flex.ts');
      done(await flex(pattern, back, options, io));
    });
}
