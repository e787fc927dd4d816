import { type Command, InvalidArgumentError, Option } from 'commander';
import { HELP } from '../help-texts.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';

const gather = (value: string, before: readonly string[] | undefined): string[] => [...(before ?? []), value];

/** Arguments and options of `barwright compare`; its work is loaded when it runs. */
export function addCompare(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  command
    .description(HELP.compare.about)
    .argument('<files...>', 'patterns and one back, one pattern and backs, or results that fit wrote')
    .option('--setup <file>', 'load, layers, position and limits of every fit: a *.setup.json file')
    .option('--set <key=value>', 'change one value of every pattern or of the setup; may be repeated', gather)
    .option('--out <file>', 'also write the JSON document here')
    .option('--map <file>', 'draw each fit to the same scale and colours: a.svg gives a-1.svg, a-2.svg ...')
    .addOption(
      new Option('--map-of <what>', 'what the maps show').choices(['clearance', 'pressure']).default('clearance'),
    )
    .option('--map-ends <mm,mm|kPa>', 'ends of the colour scale of every map, as for fit', readEnds)
    .addHelpText('after', HELP.compare.after)
    .action(async (files, options) => done(await (await import('./compare.ts')).compare(files, options, io)));
}

function readEnds(text: string): number[] {
  const ends = text.split(',').map((part) => (/^\d{1,4}(\.\d{1,4})?$/.test(part.trim()) ? Number(part) : Number.NaN));
  if (ends.length <= 2 && ends.every((end) => end > 0)) return ends;
  throw new InvalidArgumentError('Expected two ends in mm such as 12,20, or one in kPa such as 40.');
}
