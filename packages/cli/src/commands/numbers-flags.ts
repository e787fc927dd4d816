import { type Command, Option } from 'commander';

/** Options of a back made from a few numbers taken by hand, by their names in the document of numbers. */
export const NUMBER_OPTIONS = {
  usableLength: ['--usable-length <length>', 'by hand: rear edge of the blade to the last rib, along the horse'],
  withersWidth: ['--withers-width <length>', 'by hand: width across the withers at the blade edge'],
  withersDepth: ['--withers-depth <length>', 'by hand: how far below their top that is (default: 75 mm)'],
  slopeFront: [
    '--slope-front <degrees>',
    'by hand: side against level, 120 mm out from the midline, at the blade edge',
  ],
  slopeWaist: ['--slope-waist <degrees>', 'by hand: the same halfway to the last rib'],
  slopeRear: ['--slope-rear <degrees>', 'by hand: the same at the last rib; sides: "left 25, right 24"'],
  dip: ['--dip <length>', 'by hand: deepest gap under a stick on the spine, blade edge to last rib'],
  sag: ['--sag <length>', 'by hand: the same 120 mm out, mean of both sides; instead of --dip'],
  withersHeight: ['--withers-height <length>', 'by hand: ground to top of the withers, such as "15 hands"'],
  horseWeight: ['--horse-weight <mass>', 'by hand: of the horse, such as "1050 lb"'],
} as const;

export type NumberFlags = { readonly [Name in keyof typeof NUMBER_OPTIONS]?: string } & {
  /** true without a file. */
  readonly byHand?: string | true;
};

/** `--by-hand` and one option for each number. */
export function addNumberOptions(command: Command): Command {
  command.addOption(new Option('--by-hand [numbers.json]', 'from a few numbers: a file of them, or the options below'));
  for (const [flags, about] of Object.values(NUMBER_OPTIONS)) command.addOption(new Option(flags, about));
  return command;
}

/** Whether a command line asks for a back by hand: it says so, gives a number, or names a file of numbers. */
export function isByHand(file: string | undefined, flags: NumberFlags): boolean {
  const names = Object.keys(NUMBER_OPTIONS) as (keyof typeof NUMBER_OPTIONS)[];
  return (
    flags.byHand !== undefined ||
    names.some((name) => flags[name] !== undefined) ||
    /\.numbers\.json$/i.test(file ?? '')
  );
}
