import { useEffect } from 'react';
import { closeLesson, goToStep, resultStore, useDocument, useResult } from '../state/index.ts';

/** What went wrong and what to do, in words; the last good result stays on the bench. */
export function ErrorStrip() {
  const error = useResult((result) => result.error);
  const hasFit = useResult((result) => result.fit !== null);
  const refused = useResult((result) =>
    result.refused?.key === 'file' || result.refused?.key === 'lesson' ? result.refused : null,
  );
  const shown = error ?? refused?.error ?? null;
  if (shown === null) return null;
  const place = [shown.file, shown.field].filter((part) => part !== undefined && part !== '').join(', ');
  return (
    <div className="strip strip-error" role="alert">
      <p>
        {place !== '' && <strong>{place}: </strong>}
        expected {shown.expected}
        {shown.got !== undefined && <> (found {shown.got})</>}. {shown.remedy}
        {error !== null && hasFit && ' What is shown below belongs to the values before.'}
      </p>
      {error === null && (
        <button type="button" onClick={() => resultStore.setState({ refused: null })}>
          Close
        </button>
      )}
    </div>
  );
}

export function NoticeStrip() {
  const notice = useResult((result) => result.notice);
  const warnings = useResult((result) => result.back?.warnings ?? NONE);
  useEffect(() => {
    if (notice === null) return;
    const timer = setTimeout(() => resultStore.setState({ notice: null }), NOTICE_MS);
    return () => clearTimeout(timer);
  }, [notice]);
  if (notice === null && warnings.length === 0) return null;
  return (
    <div className="strip" role="status">
      <p>{[notice, ...warnings].filter((sentence) => sentence !== null).join(' ')}</p>
      {notice !== null && (
        <button type="button" onClick={() => resultStore.setState({ notice: null })}>
          Close
        </button>
      )}
    </div>
  );
}

const NONE: readonly string[] = [];
const NOTICE_MS = 12_000;

/** The open lesson: one sentence, and the way on. */
export function LessonBar() {
  const lesson = useDocument((documents) => documents.lesson);
  if (lesson === null) return null;
  const { document, step } = lesson;
  const shown = document.steps[step]!;
  return (
    <section className="strip lesson" aria-label={`Lesson: ${document.name}`}>
      <p>
        <span className="soft">
          {document.name}, {step + 1} of {document.steps.length}: {shown.title}
        </span>
        <br />
        {shown.sentence}
        {shown.locked.length > 0 && (
          <span className="soft small" title={shown.locked.join(', ')}>
            {' '}
            {shown.locked.length} values are held in this step.
          </span>
        )}
      </p>
      <div className="head-group">
        <button type="button" disabled={step === 0} onClick={() => goToStep(step - 1)}>
          Previous
        </button>
        <button type="button" disabled={step + 1 >= document.steps.length} onClick={() => goToStep(step + 1)}>
          Next
        </button>
        <button type="button" onClick={closeLesson}>
          Close
        </button>
      </div>
    </section>
  );
}

const SAVED_WORDS = {
  saved: 'kept in this browser',
  saving: 'keeping…',
  unavailable: 'this browser keeps nothing: save your files',
} as const;

/** Whether the documents would outlive the page. */
export function SavedWord() {
  const saved = useResult((result) => result.saved);
  return (
    <span className="bench-saved soft" role="status">
      {SAVED_WORDS[saved]}
    </span>
  );
}
