import type { Command } from 'commander';
import { HELP } from '../help-texts.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { UsageError } from '../output/report-error.ts';

const gather = (value: string, before: readonly string[] | undefined): string[] => [...(before ?? []), value];

/** Arguments and options of `barwright ride`; its work is loaded when it runs. */
export function addRide(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  command
    .description(HELP.ride.about)
    .argument('[pattern]', 'a *.pattern.json file, or a *.bench.json alone')
    .argument('[back]', 'a *.back.json file')
    .option('--riding <kind>', 'a kind of riding by its name, a *.riding.json file, or list', 'Hours at walk on hills')
    .option('--setup <file>', 'rider, layers, position and limits: a *.setup.json file')
    .option('--set <key=value>', 'change one value of the pattern or of the setup; may be repeated', gather)
    .option('--out <file>', 'also write the JSON document here')
    .option('--csv <file>', 'write every case as a row')
    .addHelpText('after', HELP.ride.after)
    .action(async (pattern, back, options) => {
      const commands = await import('./ride.ts');
      if (options.riding === 'list') return done(commands.listRidings(options, io));
      if (pattern === undefined) throw nothingNamed();
      return done(await commands.ride(pattern, back, options, io));
    });
}

function nothingNamed(): UsageError {
  const expected = 'a pattern and a back, a bench file, or --riding list';
  return new UsageError({ field: 'ride', got: 'a file missing', expected, remedy: 'See barwright ride --help' });
}
