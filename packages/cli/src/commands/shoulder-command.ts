import type { Command } from 'commander';
import { HELP } from '../help-texts.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';

const gather = (value: string, before: readonly string[] | undefined): string[] => [...(before ?? []), value];

/** Arguments and options of `barwright shoulder`; its work is loaded when it runs. */
export function addShoulder(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  command
    .description(HELP.shoulder.about)
    .argument('<pattern>', 'a *.pattern.json file, or a *.bench.json alone')
    .argument('[back]', 'a *.back.json file')
    .option('--setup <file>', 'load, layers, position and limits: a *.setup.json file')
    .option('--set <key=value>', 'change one value of the pattern or of the setup; may be repeated', gather)
    .option('--phases <count>', 'moments of the stride that are looked at, 2 to 360 (default: 36)')
    .option('--swing <length>', "how far the blades' rear edges swing back (default: what the back says)")
    .option('--rise <length>', 'how much higher the patch over the blade stands at full swing (default: 0)')
    .option('--creep <length>', 'show the same beside it with the saddle crept forward so far')
    .option('--clear <length>', 'solve the lift of the front tips that leaves so much clear at every moment')
    .option('--zones <mm,mm>', 'with --clear: lengths of flared zone to try (default: as it is, and 20 mm either way)')
    .option(
      '--require <condition>',
      'exit 1 unless this holds, such as "worst.leastGapMm>=-5"; may be repeated',
      gather,
    )
    .option('--out <file>', 'also write the JSON document here')
    .option('--csv <file>', 'write every moment as a row')
    .addHelpText('after', HELP.shoulder.after)
    .action(async (pattern, back, options) =>
      done(await (await import('./shoulder.ts')).shoulder(pattern, back, options, io)),
    );
}
