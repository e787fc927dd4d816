import { InputError, type InputErrorDetails, readQuantity, type TracingQuestion } from '@barwright/geometry';
import { type ReactNode, useId, useState } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import type { Units } from '../../look/format.ts';
import { TRACINGS_TEXTS } from '../../look/texts/tracings.ts';
import type { AnsweredQuestion } from './tracings-service.ts';

const T = TRACINGS_TEXTS.questions;

/** The question at hand, and the choice that is looked at while it is not yet taken. */
export interface Look {
  readonly question: TracingQuestion;
  readonly choice: string | null;
}

interface QuestionsProps {
  readonly open: readonly TracingQuestion[];
  readonly answered: readonly AnsweredQuestion[];
  readonly look: Look | null;
  readonly units: Units;
  readonly onLook: (look: Look | null) => void;
  readonly onAnswer: (id: string, answer: string | null) => void;
}

/** What the tracings leave open or contradict, one card each. Nothing is settled without being asked. */
export function Questions({ open, answered, look, units, onLook, onAnswer }: QuestionsProps) {
  const blocking = open.filter((question) => question.blocking).length;
  if (open.length === 0 && answered.length === 0) return null;
  const card = (question: TracingQuestion, answer: string | null): ReactNode => (
    <QuestionCard
      key={question.id}
      question={question}
      answer={answer}
      isAtHand={look?.question.id === question.id}
      units={units}
      onLook={onLook}
      onAnswer={onAnswer}
    />
  );
  return (
    <section className="desk-questions" aria-label={T.title}>
      <h3>
        {blocking === 0 ? T.none : blocking === 1 ? T.one : T.several(blocking)}
        {blocking > 0 && T.beforeBack}
      </h3>
      {open.map((question) => card(question, null))}
      {answered.length > 0 && (
        <details open={open.length === 0}>
          <summary>{T.answered(answered.length)}</summary>
          {answered.map(({ question, answer }) => card(question, answer))}
        </details>
      )}
    </section>
  );
}

interface CardProps {
  readonly question: TracingQuestion;
  readonly answer: string | null;
  readonly isAtHand: boolean;
  readonly units: Units;
  readonly onLook: (look: Look | null) => void;
  readonly onAnswer: (id: string, answer: string | null) => void;
}

function QuestionCard({ question, answer, isAtHand, units, onLook, onAnswer }: CardProps) {
  const says = useId();
  const isNumber = answer !== null && !question.choices.some(({ id }) => id === answer);
  const lookAt = (choice: string | null): void => onLook({ question, choice });
  return (
    <fieldset
      className={isAtHand ? 'question asked' : 'question'}
      aria-describedby={says}
      onFocus={() => lookAt(null)}
      onMouseEnter={() => lookAt(null)}
    >
      <legend>{question.question}</legend>
      <p id={says} className="small">
        {sentence(question.evidence)}
      </p>
      <div className="question-choices">
        {question.choices.map((choice) => (
          <button
            key={choice.id}
            type="button"
            aria-pressed={answer === choice.id}
            onFocus={(event) => {
              event.stopPropagation();
              lookAt(choice.id);
            }}
            onMouseEnter={() => lookAt(choice.id)}
            onMouseLeave={() => lookAt(null)}
            onClick={() => onAnswer(question.id, choice.id)}
          >
            {sentence(choice.meaning)}
          </button>
        ))}
        {answer !== null && (
          <button type="button" className="plain small" onClick={() => onAnswer(question.id, null)}>
            {T.again}
          </button>
        )}
      </div>
      {question.takesNumberMm && (
        <NumberAnswer
          start={isNumber ? answer : ''}
          units={units}
          onNumber={(mm) => onAnswer(question.id, String(Math.round(mm * 100) / 100))}
        />
      )}
    </fieldset>
  );
}

/** A distance as a shop writes it. */
function NumberAnswer({ start, units, onNumber }: { start: string; units: Units; onNumber: (mm: number) => void }) {
  const id = useId();
  const [text, setText] = useState(start === '' ? '' : `${start} mm`);
  const [problem, setProblem] = useState<InputErrorDetails | null>(null);
  const give = (): void => {
    try {
      onNumber(readQuantity(text, { field: T.distance, unit: units.length }));
      setProblem(null);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      setProblem(error.details);
    }
  };
  return (
    <form
      className="question-number"
      onSubmit={(event) => {
        event.preventDefault();
        give();
      }}
    >
      <label htmlFor={id}>{T.orDistance(units.length)}</label>
      <input
        id={id}
        type="text"
        autoComplete="off"
        value={text}
        aria-invalid={problem !== null}
        {...(problem === null ? {} : { 'aria-describedby': `${id}-says` })}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <button type="submit">{T.take}</button>
      {problem !== null && <Problem id={`${id}-says`} problem={problem} />}
    </form>
  );
}

function sentence(text: string): string {
  const start = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.?!]$/.test(start) ? start : `${start}.`;
}
