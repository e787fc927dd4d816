import { InputError } from '../numeric/index.ts';

export interface TracingChoice {
  /** What is stored in the document's `answers`. */
  readonly id: string;
  readonly meaning: string;
}

/** A contradiction or gap in a set of tracings. Asked about, never settled silently. */
export interface TracingQuestion {
  readonly id: string;
  readonly question: string;
  readonly choices: readonly TracingChoice[];
  /** What in the tracings raised it, with numbers. */
  readonly evidence: string;
  /** Whether a back can be built before it is answered. */
  readonly blocking: boolean;
  /** A plain number of mm is taken as an answer too. */
  readonly takesNumberMm: boolean;
}

export interface AnswerSheet {
  /** Questions without an answer, in the order in which they arose. */
  readonly open: TracingQuestion[];
  /** Answers given for questions that did not arise. */
  unused(): string[];
  /**
   * The answer to a question, or null after noting it as open.
   * @throws InputError 'unknown-name' for an answer that is none of the choices
   */
  ask(question: Omit<TracingQuestion, 'blocking' | 'takesNumberMm'> & Partial<TracingQuestion>): string | null;
}

export function createAnswerSheet(answers: Readonly<Record<string, string>>): AnswerSheet {
  const open: TracingQuestion[] = [];
  const asked = new Set<string>();
  return {
    open,
    unused: () => Object.keys(answers).filter((id) => !asked.has(id)),
    ask(given) {
      const question: TracingQuestion = { blocking: true, takesNumberMm: false, ...given };
      asked.add(question.id);
      const answer = Object.hasOwn(answers, question.id) ? answers[question.id] : undefined;
      if (answer === undefined) {
        open.push(question);
        return null;
      }
      if (question.choices.some((choice) => choice.id === answer)) return answer;
      if (question.takesNumberMm && /^[+-]?\d{1,4}(\.\d+)?$/.test(answer)) return answer;
      throw new InputError({
        code: 'unknown-name',
        field: `answers.${question.id}`,
        got: answer.slice(0, 40),
        expected: 'one of the choices',
        remedy: choicesText(question),
      });
    },
  };
}

/** The refusal that puts the question. */
export function openQuestionError(question: TracingQuestion): InputError {
  return new InputError({
    code: 'ambiguous',
    field: `answers.${question.id}`,
    got: question.evidence,
    expected: 'tracings that agree with each other, or an answer',
    remedy: `${question.question} ${choicesText(question)}`,
  });
}

function choicesText(question: TracingQuestion): string {
  const choices = question.choices.map((choice) => `"${choice.id}" (${choice.meaning})`);
  if (question.takesNumberMm) choices.push('or a number of mm');
  return `Answers: ${choices.join('; ')}.`;
}
