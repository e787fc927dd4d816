import {
  assumedValues,
  buildBack,
  FEW_NUMBERS_REASON,
  InputError,
  remeasureDue,
  withoutOwner,
} from '@barwright/geometry';
import { writeWhole } from '../files/write-whole.ts';
import { namingFile } from '../inputs/read-documents.ts';
import { readNumbersInput } from '../inputs/read-numbers-input.ts';
import type { Io } from '../io.ts';
import { envelope, type Warning } from '../output/envelope.ts';
import { documentText } from '../output/print-document.ts';
import { type ByHand, printNumbers } from '../output/print-numbers.ts';
import { BACK_RESULT_SCHEMA, type BackFlags, type BackResult, placeOf } from './back.ts';
import type { NumberFlags } from './numbers-flags.ts';

/** `barwright back --by-hand`: a sections document from a few shop numbers, with what they leave open. */
export async function backByHand(file: string | undefined, flags: BackFlags & NumberFlags, io: Io): Promise<0> {
  const { input, read, isToday } = await readNumbersInput(file, flags, io);
  const out = flags.out === undefined ? null : await placeOf(flags.out, input === null ? [] : [input.path], io);
  const { numbers, given } = read;
  const measured = withErrors(read.document.measured, flags);
  const document = { ...read.document, measured };
  const remeasure = namingFile(input?.file ?? '--on', () => remeasureDue(document, io.today));
  const byHand: ByHand = {
    given,
    assumed: assumedValues(document, numbers),
    uncertainty: { mm: measured.uncertaintyMm, deg: measured.uncertaintyDeg, reason: FEW_NUMBERS_REASON },
  };
  const files = out === null ? [] : [{ path: out, content: documentText(document) }];
  const built = buildBack(document);
  await writeWhole(files);
  const result: BackResult = {
    ...{ kind: 'by hand', proposal: null, cleaning: [], questions: [], toConfirm: [], byHand, remeasure },
    document: flags.withOwner === true ? document : withoutOwner(document),
    written: files.length === 0 ? [] : [flags.out!.replace(/^.*[/\\]/, '')],
  };
  const warnings: Warning[] = [
    ...(isToday
      ? [{ field: 'measured.on', sentence: `No day was given: today, ${io.today}, is taken. Say --on.` }]
      : []),
    ...built.warnings.map((sentence) => ({ field: null, sentence })),
  ];
  printNumbers(result, byHand, warnings, io);
  io.stdout(documentText(envelope(BACK_RESULT_SCHEMA, [input], result, warnings)));
  return 0;
}

type Errors = { readonly uncertaintyMm: number; readonly uncertaintyDeg: number };

/** A person may know that it is worse than usual, never that it is better: most of it was not measured. */
function withErrors<Measured extends Errors>(measured: Measured, flags: BackFlags): Measured {
  const atLeast = (option: string, text: string | undefined, least: number): number => {
    const value = text === undefined ? least : Number(text);
    if (value >= least) return value;
    throw new InputError({
      code: 'out-of-range',
      field: option,
      got: text!,
      expected: `at least ${least} for a back from a few numbers`,
      remedy: 'Leave it out; for a smaller error, measure more sections and enter tracings',
    });
  };
  return {
    ...measured,
    uncertaintyMm: atLeast('--uncertainty-mm', flags.uncertaintyMm, measured.uncertaintyMm),
    uncertaintyDeg: atLeast('--uncertainty-deg', flags.uncertaintyDeg, measured.uncertaintyDeg),
  };
}
