import {
  InputError,
  JSON_LIMITS,
  NUMBER_NAMES,
  NUMBERS_SCHEMA,
  type NumbersRead,
  parseJson,
  readFewNumbers,
} from '@barwright/geometry';
import type { BackFlags } from '../commands/back.ts';
import { NUMBER_OPTIONS, type NumberFlags } from '../commands/numbers-flags.ts';
import { type InputFile, readInput } from '../files/input-file.ts';
import type { Io } from '../io.ts';
import { readMeasured, readRecord } from './back-flags.ts';

export interface NumbersInput {
  /** null where every number came by its option. */
  readonly input: InputFile | null;
  readonly read: NumbersRead;
  /** Nobody gave a day: today was taken. */
  readonly isToday: boolean;
}

const SCAN_FLAGS = ['unit', 'tail', 'right', 'up', 'landmark', 'answer', 'acceptProposals'] as const;

/** The numbers of a file with those of the options over them. Errors name the option where the number came by one. */
export async function readNumbersInput(
  file: string | undefined,
  flags: BackFlags & NumberFlags,
  io: Io,
): Promise<NumbersInput> {
  refuseScanFlags(flags);
  const name = fileOf(file, flags);
  const input = name === null ? null : await readInput(io.folder, name, 'file', JSON_LIMITS.maxSize);
  const json = input === null ? null : parseJson(input.bytes, input.file, JSON_LIMITS);
  if (json !== null && (typeof json !== 'object' || Array.isArray(json))) {
    readFewNumbers(json, input?.file);
  }
  const base = (json ?? {}) as Record<string, unknown>;
  const merged = merge(base, flags, io.today);
  return { input, read: namingOption(flags, input, () => readFewNumbers(merged.document)), isToday: merged.isToday };
}

function fileOf(file: string | undefined, { byHand }: NumberFlags): string | null {
  if (file === undefined) return typeof byHand === 'string' ? byHand : null;
  if (typeof byHand !== 'string' && /\.json$/i.test(file)) return file;
  throw usage('file', JSON.stringify(file).slice(0, 60), 'a scan or tracings, or numbers taken by hand, not both');
}

function merge(base: Record<string, unknown>, flags: BackFlags & NumberFlags, today: string) {
  const own = (base.measured ?? {}) as Record<string, unknown>;
  // Checks the options too: a day that no calendar has, an error that no hand has.
  const { measured } = readMeasured(flags, today);
  const by = flags.by ?? own.by ?? measured.by;
  const on = flags.on ?? own.on ?? measured.on;
  const given = NUMBER_NAMES.flatMap((name) => (flags[name] === undefined ? [] : [[name, flags[name]]]));
  const record = readRecord(flags);
  const document = {
    ...base,
    schema: base.schema ?? (Object.keys(base).length === 0 ? NUMBERS_SCHEMA : undefined),
    ...Object.fromEntries(given),
    ...(flags.name === undefined && base.name !== undefined ? {} : { name: flags.name ?? 'By hand' }),
    measured: { ...own, by, on },
    ...(record === null ? {} : { record }),
  };
  return { document: JSON.parse(JSON.stringify(document)) as unknown, isToday: flags.on === undefined && !own.on };
}

/** A refused number is named as the person gave it. */
function namingOption<Result>(flags: NumberFlags, input: InputFile | null, work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const name = error.details.field?.split('.')[0] as keyof typeof NUMBER_OPTIONS | undefined;
    const option = name === undefined ? undefined : NUMBER_OPTIONS[name]?.[0].split(' ')[0];
    if (option !== undefined && (input === null || flags[name!] !== undefined)) {
      const remedy = input === null && error.code === 'missing' ? MISSING : error.details.remedy;
      throw new InputError({ ...error.details, field: option, remedy });
    }
    throw input === null ? error : error.inFile(input.file);
  }
}

const MISSING =
  'By hand takes --usable-length, --withers-width, --slope-front, --slope-waist, --slope-rear and one of --dip and --sag';

function refuseScanFlags(flags: BackFlags): void {
  const odd = SCAN_FLAGS.find((flag) => flags[flag] !== undefined);
  if (odd === undefined) return;
  const option = `--${odd.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
  throw usage(option, 'given', 'a scan or tracings with this option');
}

function usage(field: string, got: string, expected: string): InputError {
  return new InputError({ code: 'usage', field, got, expected, remedy: 'Leave one of them out' });
}
