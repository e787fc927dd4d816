import {
  buildBack,
  CLEAN_STEPS,
  type CleanStep,
  type CleanStepReport,
  cleanScan,
  InputError,
  proposeScan,
  type RawMesh,
  type ScanHints,
  type ScanProposal,
  type ScanUnit,
  SIDES_CHOICES,
  type SidesChoice,
  scanDocumentFromProposal,
  scanSurface,
} from '@barwright/geometry';
import type { BackFlags, Prepared } from '../commands/back.ts';
import type { InputFile } from '../files/input-file.ts';
import { readLandmarks, readMeasured, readRecord } from './back-flags.ts';

/** One step of a clean-up, and whether the document asks for it. */
export interface CleaningStep extends CleanStepReport {
  readonly applied: boolean;
}

const UNIT_MM: Readonly<Record<ScanUnit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };

/** A scan or cloud as a document: what its file leaves out is proposed, marks on the wrong sides are asked about. */
export function prepareScan(input: InputFile, raw: RawMesh, flags: BackFlags, today: string): Prepared {
  const steps = cleanSteps(flags.clean);
  const pointSpacing = spacingOf(flags.pointSpacing);
  const hints = withAnswer(hintsOf(flags), flags.answer);
  const { measured, isDateOpen } = readMeasured(flags, today);
  const record = readRecord(flags);
  const proposal = proposeScan(raw, hints);
  const questions = proposal.questions;
  const open = [
    // A document may go without landmarks: they are then proposed wherever it is used, and said to be.
    ...proposal.toConfirm.filter((part) => !part.startsWith('landmarks.') && !isQuestion(questions, part)),
    ...(isDateOpen ? ['measured.on'] : []),
  ];
  const isAccepted = flags.acceptProposals === true;
  const toConfirm = [...(isAccepted ? [] : open), ...questions.map(({ id }) => `answers.${id}`)];
  const surface = scanSurface({ ...placeOf(proposal), ...pointSpacing }, raw.mesh);
  const found = cleanScan(surface.mesh, steps ?? undefined, { unitMm: UNIT_MM[proposal.unit.value] }).steps;
  const cleaning: CleaningStep[] = found.map((step) => ({ ...step, applied: steps !== null }));
  const result = { kind: 'scan' as const, proposal, cleaning, questions, toConfirm };
  if (toConfirm.length > 0) {
    return { result, document: null, beside: null, warnings: [...raw.warnings, ...surface.warnings] };
  }
  const document = scanDocumentFromProposal(isAccepted ? proposal : givenOnly(proposal), {
    name: flags.name ?? input.file.replace(/\.[^.]*$/, ''),
    mesh: input.file,
    measured,
    ...pointSpacing,
    ...(steps === null ? {} : { cleaning: steps }),
    ...(record === null ? {} : { record }),
  });
  const built = buildBack(document, { mesh: raw.mesh });
  return { result, document, beside: input, warnings: [...raw.warnings, ...built.warnings] };
}

const isQuestion = (questions: ScanProposal['questions'], part: string): boolean =>
  questions.some(({ id }) => id === part);

function placeOf({ unit, tail, right, up, turn, mirrored }: ScanProposal) {
  const axes = { tail: tail.value, right: right.value, up: up.value };
  return {
    axes,
    unit: unit.value,
    mirrored: mirrored.value,
    ...(turn.value === null ? {} : { turn: [...turn.value] }),
  };
}

function hintsOf(flags: BackFlags): ScanHints {
  return {
    ...(flags.unit === undefined ? {} : { unit: flags.unit }),
    ...(flags.tail === undefined ? {} : { tail: flags.tail }),
    ...(flags.right === undefined ? {} : { right: flags.right }),
    ...(flags.up === undefined ? {} : { up: flags.up }),
    ...(flags.mirrored === true ? { mirrored: true } : {}),
    landmarks: readLandmarks(flags.landmark ?? []),
  };
}

/** What the answer about swapped sides changes of what was said: each names the one thing that was wrong. */
function withAnswer(hints: ScanHints, answers: readonly string[] | undefined): ScanHints {
  if (answers === undefined) return hints;
  const asked = proposeSidesAnswer(answers);
  if (asked === 'mirrored') return { ...hints, mirrored: hints.mirrored !== true };
  if (asked === 'other-way-round') {
    return refuseAnswer('sides=other-way-round', 'the way the horse faces', 'Say which end is the tail: --tail -x');
  }
  const { bladeEdgeLeft, bladeEdgeRight, ...rest } = hints.landmarks ?? {};
  return {
    ...hints,
    landmarks: {
      ...rest,
      ...(bladeEdgeLeft === undefined ? {} : { bladeEdgeRight: bladeEdgeLeft }),
      ...(bladeEdgeRight === undefined ? {} : { bladeEdgeLeft: bladeEdgeRight }),
    },
  };
}

function proposeSidesAnswer(answers: readonly string[]): SidesChoice {
  const [id, choice, ...more] = answers.length === 1 ? answers[0]!.split('=') : [];
  const known = SIDES_CHOICES.find((name) => name === choice);
  if (id === 'sides' && known !== undefined && more.length === 0) return known;
  return refuseAnswer(answers.join(' '), `sides=${SIDES_CHOICES.join(' or sides=')}, once`, 'A scan has one question');
}

function refuseAnswer(got: string, expected: string, remedy: string): never {
  throw new InputError({
    code: 'usage',
    field: '--answer',
    got: JSON.stringify(got).slice(0, 60),
    expected,
    remedy,
  });
}

/** `--clean` alone takes all steps; null without the option. */
function cleanSteps(flag: string | true | undefined): CleanStep[] | null {
  if (flag === undefined) return null;
  if (flag === true) return [...CLEAN_STEPS];
  const names = flag.split(',').map((name) => name.trim());
  const steps = names.flatMap((name) => CLEAN_STEPS.filter((step) => step === name));
  if (steps.length === names.length && new Set(steps).size === steps.length) return steps;
  throw new InputError({
    code: 'usage',
    field: '--clean',
    got: JSON.stringify(flag).slice(0, 60),
    expected: `each once of ${CLEAN_STEPS.join(', ')}`,
    remedy: 'Separate them by commas, or give --clean alone for all',
  });
}

function spacingOf(text: string | undefined): { pointSpacing?: number } {
  if (text === undefined) return {};
  const value = /^\d{1,6}(\.\d{1,9})?$/.test(text) ? Number(text) : 0;
  if (value > 0) return { pointSpacing: value };
  throw new InputError({
    code: 'usage',
    field: '--point-spacing',
    got: JSON.stringify(text).slice(0, 60),
    expected: "a number above 0, in the file's unit",
    remedy: 'Correct the option',
  });
}

/** The proposal with only those landmarks that a person marked. */
function givenOnly(proposal: ScanProposal): ScanProposal {
  const landmarks = Object.fromEntries(
    Object.entries(proposal.landmarks).map(([name, part]) => [name, part.given ? part : { ...part, value: null }]),
  );
  return { ...proposal, landmarks: landmarks as ScanProposal['landmarks'] };
}
