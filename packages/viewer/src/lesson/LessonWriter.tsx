import { useEffect } from 'react';
import { Problem } from '../card/TypedField.tsx';
import { TEXTS } from '../look/texts.ts';
import { setView, useDocument } from '../state/index.ts';
import { EMPTY_DRAFT } from './draft.ts';
import { StepForm } from './StepForm.tsx';
import { useSheet } from './use-sheet.ts';
import {
  beginAnew,
  editDraft,
  playDraft,
  redoDraft,
  restoreDraft,
  saveDraft,
  takeBench,
  takeOpenLesson,
  undoDraft,
  useWriting,
} from './writer-store.ts';
import './writer.css';

const T = TEXTS.lessonWriter;

/** Writing a lesson beside the bench: set the bench, take it as a step, say one sentence, ask before it. */
export function LessonWriter() {
  const { now: draft } = useWriting((writing) => writing.drafts);
  const problem = useWriting((writing) => writing.problem);
  const kept = useWriting((writing) => writing.kept);
  const hasLesson = useDocument((documents) => documents.lesson !== null);
  const sheet = useSheet();
  useEffect(() => void restoreDraft(), []);
  return (
    <section className="lesson-writer" aria-label={T.title} {...sheet}>
      <div className="study-head">
        <h2>{T.title}</h2>
        <p className="small soft">{T.says}</p>
        <button type="button" onClick={() => setView({ lessonSheet: null })}>
          {TEXTS.lesson.close}
        </button>
      </div>
      <div className="lesson-writer-body">
        {problem !== null && <Problem problem={problem} />}
        <Names />
        <ol className="lesson-steps">
          {draft.steps.map((step, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a step is known by its place
            <StepForm key={i} at={i} step={step} draft={draft} />
          ))}
        </ol>
        <div className="head-group">
          <button type="button" onClick={() => void takeBench()}>
            {T.take}
          </button>
          {hasLesson && (
            <button type="button" onClick={takeOpenLesson}>
              {T.takeOpen}
            </button>
          )}
          <button type="button" disabled={draft.steps.length === 0} onClick={() => void playDraft()}>
            {T.play}
          </button>
          <button type="button" disabled={draft.steps.length === 0} onClick={() => void saveDraft()}>
            {T.save}
          </button>
        </div>
        <DraftHistory />
        <p className="small soft">
          {T.kept[kept]} {T.saveNote}
        </p>
      </div>
    </section>
  );
}

function DraftHistory() {
  const { past, now, future } = useWriting((writing) => writing.drafts);
  return (
    <div className="head-group">
      <button type="button" disabled={past.length === 0} onClick={undoDraft}>
        {T.undo}
      </button>
      <button type="button" disabled={future.length === 0} onClick={redoDraft}>
        {T.redo}
      </button>
      <button type="button" disabled={now === EMPTY_DRAFT} onClick={beginAnew}>
        {T.anew}
      </button>
    </div>
  );
}

function Names() {
  const { now: draft } = useWriting((writing) => writing.drafts);
  return (
    <div className="lesson-fields">
      <label>
        {T.name}
        <input
          value={draft.name}
          maxLength={120}
          onChange={(e) => editDraft({ ...draft, name: e.target.value }, 'name')}
        />
      </label>
      <label>
        {T.about}
        <input
          value={draft.sentence}
          maxLength={600}
          onChange={(e) => editDraft({ ...draft, sentence: e.target.value }, 'sentence')}
        />
      </label>
    </div>
  );
}
