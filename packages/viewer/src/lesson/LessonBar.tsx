import type { LessonAsk, LessonStep } from '@barwright/geometry';
import { useId, useState } from 'react';
import { TEXTS } from '../look/texts.ts';
import { closeLesson, goToStep, setView, useDocument, useResult, useSentence, useView } from '../state/index.ts';
import { answer, useIsAsking } from './asking.ts';
import { heldNames } from './held-names.ts';
import './lesson.css';

const T = TEXTS.lesson;

/** The open lesson: what it asks first, then one sentence, and the way on. */
export function LessonBar() {
  const lesson = useDocument((documents) => documents.lesson);
  const isAsking = useIsAsking();
  if (lesson === null) return null;
  const { document, step } = lesson;
  const shown = document.steps[step]!;
  return (
    <section className="strip lesson" aria-label={T.region(document.name)}>
      <div className="lesson-words">
        <div className="lesson-row">
          <p className="soft lesson-name">{T.place(document.name, step + 1, document.steps.length, shown.title)}</p>
          <Held keys={shown.locked} />
        </div>
        {isAsking && shown.ask !== undefined ? <Ask key={step} ask={shown.ask} /> : <Said step={shown} index={step} />}
      </div>
      <div className="head-group lesson-way">
        <button type="button" disabled={step === 0} onClick={() => goToStep(step - 1)}>
          {T.previous}
        </button>
        <button type="button" disabled={step + 1 >= document.steps.length} onClick={() => goToStep(step + 1)}>
          {T.next}
        </button>
        <button type="button" onClick={() => setView({ lessonSheet: 'handout' })}>
          {T.handout}
        </button>
        <button type="button" onClick={closeLesson}>
          {T.close}
        </button>
      </div>
    </section>
  );
}

/** The question, answered by a choice or in one's own words; nobody has to. */
function Ask({ ask }: { ask: LessonAsk }) {
  const [text, setText] = useState('');
  const id = useId();
  return (
    <form
      className="lesson-ask"
      aria-label={T.expect}
      onSubmit={(event) => {
        event.preventDefault();
        answer(text.trim());
      }}
    >
      <div className="lesson-row">
        <p className="lesson-sentence" id={id}>
          {ask.question}
        </p>
        {ask.choices.map((choice) => (
          <button key={choice} type="button" onClick={() => answer(choice)}>
            {choice}
          </button>
        ))}
        {ask.choices.length === 0 && (
          <>
            <input
              type="text"
              maxLength={200}
              value={text}
              aria-labelledby={id}
              onChange={(e) => setText(e.target.value)}
            />
            <button type="submit">{T.answer}</button>
          </>
        )}
        <button type="button" className="lesson-show" onClick={() => answer('')}>
          {T.show}
        </button>
      </div>
      <p className="small soft">{T.keptBack}</p>
    </form>
  );
}

function Said({ step, index }: { step: LessonStep; index: number }) {
  const sentence = useSentence();
  const said = useView((view) => view.answers[index]);
  return (
    <>
      {said !== undefined && said !== '' && <p className="small soft">{T.expected(said)}</p>}
      <p className="lesson-sentence">
        {sentence(step.sentence)} <span className="soft lesson-look">{T.lookAt[step.lookAt]}</span>
      </p>
    </>
  );
}

/** What the step holds, by the names that stand on the card. */
function Held({ keys }: { keys: readonly string[] }) {
  const fields = useResult((result) => result.pattern?.fields);
  if (keys.length === 0) return null;
  return (
    <details className="small lesson-held">
      <summary>{T.held(keys.length)}</summary>
      {heldNames(keys, fields ?? []).join('; ')}
    </details>
  );
}
