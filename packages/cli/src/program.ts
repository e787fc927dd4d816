import { Command, type CommanderError, InvalidArgumentError, Option } from 'commander';
import { addBack } from './commands/back-command.ts';
import { addChanges } from './commands/compare-backs-command.ts';
import { addCompare } from './commands/compare-command.ts';
import { addDraw } from './commands/draw-command.ts';
import { addFlex } from './commands/flex-command.ts';
import { addReach } from './commands/reach-command.ts';
import { addRide } from './commands/ride-command.ts';
import { addSheet } from './commands/sheet-command.ts';
import { addShoulder } from './commands/shoulder-command.ts';
import { addSize } from './commands/size-command.ts';
import { addSure } from './commands/sure-command.ts';
import { HELP } from './help-texts.ts';
import type { Io } from './io.ts';
import type { ExitCode } from './main.ts';
import { PROGRAM } from './output/program-version.ts';
import { UsageError } from './output/report-error.ts';

/** Filled in by the command that ran. */
export interface Outcome {
  exitCode: ExitCode;
}

/** Help or version was asked for and has been printed. */
export class RequestedText extends Error {}

/** The command line of DESIGN 7. Every action loads its own code, so that help stays quick. */
export function createProgram(io: Io, outcome: Outcome): Command {
  const program = new Command('barwright');
  configure(program, io)
    .description(HELP.program.about)
    .version(PROGRAM.version, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print help; also `barwright help fit`')
    .addHelpText('after', HELP.program.after);
  const done = (exitCode: ExitCode): void => {
    outcome.exitCode = exitCode;
  };
  addFit(program, io, done);
  addMeasure(program, io, done);
  addBack(program.command('back'), io, done);
  addChanges(program.command('changes'), io, done);
  addCompare(program.command('compare'), io, done);
  addSheet(program.command('sheet'), io, done);
  addDraw(addSettings(program.command('draw')), io, done);
  addSweep(program, io, done);
  addReach(program.command('reach'), io, done);
  addSure(program.command('sure'), io, done);
  addShoulder(program.command('shoulder'), io, done);
  addRide(program.command('ride'), io, done);
  addFlex(program.command('flex'), io, done);
  addSize(program.command('size'), io, done);
  addCheck(program, io, done);
  addView(program, io, done);
  addSchema(program, io, done);
  for (const command of program.commands) configure(command, io);
  return program.hook('preAction', (_, command) => refuseLonePattern(command));
}

/** A back may be left out only where the first file is a whole bench. */
function refuseLonePattern(command: Command): void {
  const [first, second] = command.registeredArguments.map((argument) => argument.name());
  const [pattern, back] = command.args;
  if (first !== 'pattern' || second !== 'back' || pattern === undefined || back !== undefined) return;
  if (/\.bench\.json$/i.test(pattern)) return;
  throw new UsageError({
    field: command.name(),
    got: "missing required argument 'back'",
    expected: 'a pattern and a back, or a *.bench.json that holds both',
    remedy: `See barwright ${command.name()} --help`,
  });
}

/** Commander's own ways out (exit, process streams, loose errors) turned into ours. */
function configure(command: Command, io: Io): Command {
  return command
    .configureOutput({
      writeOut: (text) => io.stdout(text),
      writeErr: () => {},
      getOutHelpWidth: () => 100,
      getErrHelpWidth: () => 100,
    })
    .exitOverride((error) => {
      throw translate(error, command);
    });
}

function translate(error: CommanderError, command: Command): Error {
  if (error.exitCode === 0) return new RequestedText(error.code);
  const about = command.parent === null ? 'barwright --help' : `barwright ${command.name()} --help`;
  if (error.code === 'commander.help') {
    return new UsageError({ expected: 'a command', remedy: `See ${about}` });
  }
  const said = error.message.replace(/^error: /, '').replaceAll('\n', ' ');
  return new UsageError({
    field: command.name(),
    got: said,
    expected: 'a command line as its help shows',
    remedy: `See ${about}`,
  });
}

type Done = (exitCode: ExitCode) => void;
const gather = (value: string, before: readonly string[] | undefined): string[] => [...(before ?? []), value];

function addFit(program: Command, io: Io, done: Done): void {
  addSettings(program.command('fit'))
    .description(HELP.fit.about)
    .argument('<pattern>', 'a *.pattern.json file, or a *.bench.json alone')
    .argument('[back]', 'a *.back.json file')
    .option('--out <file>', 'also write the JSON document here')
    .option('--samples <file.csv>', 'write every cell of both undersides: place, foot, gap, pressure')
    .option('--map <file>', 'draw both undersides to scale, as .svg or .png')
    .addOption(
      new Option('--map-of <what>', 'what the map shows').choices(['clearance', 'pressure']).default('clearance'),
    )
    .option('--map-ends <mm,mm|kPa>', 'ends of the colour scale: squeeze,daylight in mm, or most kPa', readEnds)
    .option('--with-owner', "name the horse's owner in the notes, where the back's record does")
    .option('--require <condition>', 'exit 1 unless this holds, such as "bridging<3"; may be repeated', gather)
    .addHelpText('after', HELP.fit.after)
    .action(async (pattern, back, options) =>
      done(await (await import('./commands/fit.ts')).fit(pattern, back, options, io)),
    );
}

function addMeasure(program: Command, io: Io, done: Done): void {
  program
    .command('measure')
    .description(HELP.measure.about)
    .argument('<file>', 'a *.pattern.json file, or a mesh of one or two bars (PLY, STL, OBJ, GLB, 3MF)')
    .option('--set <key=value>', 'pattern: change one value; may be repeated', gather)
    .option('--axes <tail,right,up>', 'mesh: file axes that point to the tail, right and up (default: +x,+y,+z)')
    .addOption(new Option('--unit <unit>', 'mesh: unit of its numbers (default: mm)').choices(['mm', 'cm', 'm', 'in']))
    .addOption(new Option('--side <side>', 'mesh: bars to measure (default: both)').choices(['both', 'left', 'right']))
    .option('--midplane <length>', 'mesh: where the midplane lies along the axis that points right (default: 0)')
    .option('--bearing-line <length>', 'mesh: outward distance of the line the rock is measured on (default: 120 mm)')
    .addHelpText('after', HELP.measure.after)
    .action(async (file, options) => done(await (await import('./commands/measure.ts')).measure(file, options, io)));
}

function addSweep(program: Command, io: Io, done: Done): void {
  addSettings(program.command('sweep'))
    .description(HELP.sweep.about)
    .argument('<pattern>', 'a *.pattern.json file, or a *.bench.json alone')
    .argument('[back]', 'a *.back.json file')
    .requiredOption('--vary <key=from:to:step>', 'the value to step through; a second one makes a table', gather)
    .option('--out <file>', 'also write the JSON document here')
    .addHelpText('after', HELP.sweep.after)
    .action(async (pattern, back, options) =>
      done(await (await import('./commands/sweep.ts')).sweep(pattern, back, options, io)),
    );
}

function addSettings(command: Command): Command {
  return command
    .option('--setup <file>', 'load, layers, position and limits: a *.setup.json file')
    .option(
      '--set <key=value>',
      'change one value: length="24 1/4 in", setup.load.riderKg=104; may be repeated',
      gather,
    );
}

function addCheck(program: Command, io: Io, done: Done): void {
  program
    .command('check')
    .description(HELP.check.about)
    .argument('<file>', 'a document of any kind, or a mesh (PLY, STL, OBJ, GLB, 3MF)')
    .addHelpText('after', HELP.check.after)
    .action(async (file) => done(await (await import('./commands/check.ts')).check(file, io)));
}

function addView(program: Command, io: Io, done: Done): void {
  program
    .command('view')
    .description(HELP.view.about)
    .argument('[files...]', 'documents and meshes to open on the bench')
    .option('--port <number>', 'port on 127.0.0.1; 0 takes a free one', readPort, 0)
    .addHelpText('after', HELP.view.after)
    .action(async (files, options) => done(await (await import('./commands/view.ts')).view(files, options, io)));
}

function addSchema(program: Command, io: Io, done: Done): void {
  program
    .command('schema')
    .description(HELP.schema.about)
    .argument('<name>', HELP.schema.names)
    .addHelpText('after', HELP.schema.after)
    .action(async (name) => done(await (await import('./commands/schema.ts')).schema(name, io)));
}

function readPort(text: string): number {
  const port = Number(text);
  if (/^\d{1,5}$/.test(text) && port <= 65_535) return port;
  throw new InvalidArgumentError('Expected a port from 0 to 65535.');
}

function readEnds(text: string): number[] {
  const ends = text.split(',').map((part) => (/^\d{1,4}(\.\d{1,4})?$/.test(part.trim()) ? Number(part) : Number.NaN));
  if (ends.length <= 2 && ends.every((end) => end > 0)) return ends;
  throw new InvalidArgumentError('Expected two ends in mm such as 12,20, or one in kPa such as 40.');
}
