import { type Command, InvalidArgumentError, Option } from 'commander';
import { HELP } from '../help-texts.ts';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';

const gather = (value: string, before: readonly string[] | undefined): string[] => [...(before ?? []), value];

/** Arguments and options of `barwright changes`; its work is loaded when it runs. */
export function addChanges(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  command
    .description(HELP.changes.about)
    .argument('<before>', 'the earlier *.back.json file')
    .argument('<after>', 'the later *.back.json file of the same horse')
    .option('--map <file>', 'draw the change seen from above, as .svg or .png')
    .addOption(
      new Option('--align <how>', 'how the map and the samples lay the two together')
        .choices(['best-fit', 'landmarks'])
        .default('best-fit'),
    )
    .option('--map-ends <mm,mm>', 'ends of the colour scale: lower, fuller (default: 10,10)', readEnds)
    .option('--changed <x,x,y,y>', 'known to have changed, left out of the best fit: from, to; may be repeated', gather)
    .option('--out <file>', 'also write the JSON document here')
    .option('--samples <file.csv>', 'write the compared grid: place, heights, difference, limit')
    .option('--with-owner', "name the owner, where a record does; otherwise it stays in the back's file")
    .addHelpText('after', HELP.changes.after)
    .action(async (before, after, options) =>
      done(await (await import('./compare-backs.ts')).changes(before, after, options, io)),
    );
}

function readEnds(text: string): [number, number] {
  const ends = text.split(',').map((part) => (/^\s*\d{1,3}(\.\d{1,3})?\s*$/.test(part) ? Number(part) : Number.NaN));
  const [lower, fuller] = ends;
  if (ends.length === 2 && lower! >= 0.5 && fuller! >= 0.5) return [lower!, fuller!];
  throw new InvalidArgumentError('Expected two ends in mm, 0.5 or more, such as 10,10.');
}
