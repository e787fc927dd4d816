import type { PlanLine } from './propose-landmarks.ts';
import { type Proposal, saidSo } from './propose-part.ts';
import { type Turn, turnPoint } from './scan-axes.ts';
import type { GivenLandmarks } from './scan-landmarks.ts';
import type { TracingQuestion } from './tracings-questions.ts';

/** Answers to the question of swapped sides. */
export const SIDES_CHOICES = Object.freeze(['mirrored', 'names-swapped', 'other-way-round'] as const);
export type SidesChoice = (typeof SIDES_CHOICES)[number];

interface SidesHints {
  readonly landmarks?: GivenLandmarks;
  readonly mirrored?: boolean;
}

/**
 * Whether a file was saved mirrored. A mirrored back has the shape of a back, so the shape says nothing; marks that carry a side's
 * name do. Both on the wrong sides: a question, since the file may be mirrored, the names exchanged, or, while nobody
 * said which end is the tail, the horse the other way round.
 * @param turn file coordinates to mm, x to the tail, y right; `line` the midplane in those.
 */
export function proposeSides(
  turn: Turn,
  line: PlanLine,
  hints: SidesHints,
  isTailKnown: boolean,
): { mirrored: Proposal<boolean>; questions: readonly TracingQuestion[] } {
  const away = sidesOf(turn, line, hints.landmarks ?? {});
  const wrong = away.filter(({ wrongMm }) => wrongMm > 0);
  const evidence = away.map(({ name, sentence }) => `${name} lies ${sentence}`).join(', ');
  const isSwapped = away.length > 0 && wrong.length === away.length;
  const questions = isSwapped ? [question(evidence, hints.mirrored === true, isTailKnown)] : [];
  if (hints.mirrored !== undefined) return { mirrored: saidSo(hints.mirrored), questions };
  if (away.length === 0) return { mirrored: notTold(), questions };
  const reason = isSwapped
    ? `By tail and up ${evidence}: mirrored, or the names are swapped.`
    : wrong.length > 0
      ? `By tail and up ${evidence}: both on one side, so they do not tell.`
      : `By tail and up ${evidence}, as named.`;
  return {
    mirrored: {
      value: false,
      alternatives: [{ value: true, score: isSwapped ? 0.5 : 0.1, reason: 'The file was saved mirrored.' }],
      reason,
      confidence: wrong.length > 0 ? 'unsure' : isTailKnown ? 'clear' : 'likely',
      given: false,
    },
    questions,
  };
}

function sidesOf(turn: Turn, line: PlanLine, landmarks: GivenLandmarks) {
  return (['bladeEdgeLeft', 'bladeEdgeRight'] as const).flatMap((name) => {
    const mark = landmarks[name];
    if (mark === undefined) return [];
    const [x, y] = turnPoint(turn, mark);
    const toRight = y - line.atY - line.slope * x;
    const sentence = `${Math.abs(toRight).toFixed(0)} mm to the ${toRight < 0 ? 'left' : 'right'} of the mirror plane`;
    return [{ name, sentence, wrongMm: name === 'bladeEdgeLeft' ? toRight : -toRight }];
  });
}

const notTold = (): Proposal<boolean> => ({
  value: false,
  alternatives: [{ value: true, score: 0.1, reason: 'The file was saved mirrored.' }],
  reason:
    'Not told: a mirrored scan has the same shape, and no mark names a side. Mark a blade edge, or compare it with the horse.',
  confidence: 'unsure',
  given: false,
});

function question(evidence: string, isMirrored: boolean, isTailKnown: boolean): TracingQuestion {
  const meaning: Readonly<Record<SidesChoice, string>> = {
    mirrored: isMirrored ? 'the file is not mirrored after all' : 'the file was saved mirrored; the marks are right',
    'names-swapped': 'left and right were exchanged in the marks; the file is right',
    'other-way-round': 'head and tail are exchanged; file and marks are right',
  };
  const choices = SIDES_CHOICES.filter((id) => id !== 'other-way-round' || !isTailKnown);
  return {
    id: 'sides',
    question: 'The marked blade edges lie on the wrong sides. What is swapped?',
    choices: choices.map((id) => ({ id, meaning: meaning[id] })),
    evidence,
    blocking: true,
    takesNumberMm: false,
  };
}
