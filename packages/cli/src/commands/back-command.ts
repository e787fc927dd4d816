import { type Command, Option } from 'commander';
import type { Io } from '../io.ts';
import type { ExitCode } from '../main.ts';
import { UsageError } from '../output/report-error.ts';
import { addNumberOptions, isByHand } from './numbers-flags.ts';

const ABOUT =
  'Make a back document from a scan, from tracings or from a few numbers taken by hand: what is not said is proposed, and asked about.';

const AFTER = `
Example: read the demo scan, take every proposal, and write the document with a copy of the mesh beside it
  barwright back examples/tuesday-scan.ply --out tuesday-scanned.back.json --accept-proposals

Without --accept-proposals it prints what it would propose, with reasons, and ends with 1 while something is open; what
you say yourself is not asked: --unit m --tail -x --up +z --on 2026-10-14. Mark landmarks in the file's own numbers:
--landmark withersTop=1.45,0.25,1.59 (also lastRib, bladeEdgeLeft, bladeEdgeRight, lowPoint). Blade edges and last rib
are felt on the horse, not seen in a shape: accepted ones stay marked as proposed in every result.
A mirrored scan can't be told from its shape: compare it with the horse, and say --mirrored. Blade edges marked on the wrong
sides are asked about: --answer sides=mirrored or sides=names-swapped.

Points without triangles (XYZ, CSV, PLY) are made a surface seen from above; what was left out or bridged is said.
--clean writes the steps into the document; the scan's file stays as it is, and taking a step out of the document undoes it.

Tracings (CSV with curve,x,y,z, SVG, or a *.back.json of tracings) are asked about where they contradict themselves; answer
with --answer "question=choice". Nothing is swapped by itself.

By hand, with a flexible ruler and a level (bare numbers are mm and degrees; a wide error is stated with the document):
  barwright back --by-hand --usable-length "19 3/4 in" --withers-width "7 1/4 in" --slope-front "left 46, right 45" \\
    --slope-waist 33 --slope-rear 24 --dip "1 3/8 in" --name Tuesday --out tuesday-by-hand.back.json
or the same from a file: barwright back --by-hand tuesday.numbers.json (its fields: barwright schema numbers).`;

const gather = (value: string, before: readonly string[] | undefined): string[] => [...(before ?? []), value];

/** Arguments and options of `barwright back`; its work is loaded when it runs. */
export function addBack(command: Command, io: Io, done: (exitCode: ExitCode) => void): void {
  const axis = (name: string, about: string): Option =>
    new Option(`--${name} <axis>`, about).choices(['+x', '-x', '+y', '-y', '+z', '-z']);
  addNumberOptions(command)
    .description(ABOUT)
    .argument('[file]', 'a scan (mesh), tracings (CSV, SVG, *.back.json) or numbers (*.numbers.json)')
    .option('--out <file.back.json>', 'write the document here, a scan beside it')
    .addOption(new Option('--unit <unit>', "unit of the file's numbers").choices(['mm', 'cm', 'm', 'in']))
    .addOption(axis('tail', 'file axis that points to the tail'))
    .addOption(axis('right', "file axis that points to the horse's right"))
    .addOption(axis('up', 'file axis that points up'))
    .option('--mirrored', 'the file was saved mirrored: left and right are swapped in it')
    .option('--clean [steps]', 'clean a scan up: all steps, or some of weld,faces,winding,islands,spikes,hair,pinholes')
    .option('--point-spacing <size>', "cloud: side of the cells of its surface, in the file's unit")
    .option('--landmark <name=x,y,z>', "a marked place in the file's own numbers; may be repeated", gather)
    .option('--accept-proposals', 'take what is proposed for everything not said')
    .option('--answer <question=choice>', 'answer a question; may be repeated', gather)
    .option('--name <text>', 'name of the back (default: of the file)')
    .option('--by <text>', 'who measured')
    .option('--on <yyyy-mm-dd>', 'the day it was measured (proposed: today)')
    .option('--uncertainty-mm <mm>', 'error of measuring, heights (default: 3; by hand 8, with --dip 12)')
    .option('--uncertainty-deg <deg>', 'error of measuring, slopes (default: 2; by hand 4)')
    .option('--owner <text>', 'record: owner; kept in the document, left out of results')
    .option('--horse <text>', 'record: horse')
    .addOption(new Option('--surface <state>', 'record: what was measured').choices(['bare', 'over pad']))
    .option('--how <text>', 'record: how it was measured')
    .option('--notes <text>', 'record: anything else worth keeping')
    .option('--with-owner', "leave the owner's name in the document on stdout")
    .addHelpText('after', AFTER)
    .action(async (file, options) => {
      if (isByHand(file, options)) {
        return done(await (await import('./numbers-back.ts')).backByHand(file, options, io));
      }
      if (file === undefined) throw nothingNamed();
      return done(await (await import('./back.ts')).back(file, options, io));
    });
}

function nothingNamed(): UsageError {
  const expected = 'a scan or tracings, or --by-hand with a few numbers';
  return new UsageError({ field: 'back', got: 'no file', expected, remedy: 'See barwright back --help' });
}
