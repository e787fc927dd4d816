import { useEffect } from 'react';
import { openCopyOf } from '../habits/go-back.ts';
import { clock, habitsStore, useHabits } from '../habits/habits-store.ts';
import { type RefusedEdit, resultStore, useResult } from '../state/index.ts';

/** What has no field of its own to be said at; what a lesson holds may be dragged anywhere. */
const isSaidAbove = ({ key, error }: RefusedEdit): boolean =>
  key === 'file' || key === 'lesson' || error.code === 'forbidden';

/** What went wrong and what to do, in words; the last good result stays on the bench. */
export function ErrorStrip() {
  const error = useResult((result) => result.error);
  const hasFit = useResult((result) => result.fit !== null);
  const refused = useResult((result) =>
    result.refused !== null && isSaidAbove(result.refused) ? result.refused : null,
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

const SAVED_WORDS = {
  saved: 'kept in this browser',
  saving: 'keeping…',
  unavailable: 'this browser keeps nothing: save your files',
} as const;

/** Whether the documents would outlive the page, and since when. */
export function SavedWord() {
  const saved = useResult((result) => result.saved);
  const savedAt = useHabits((habits) => habits.savedAt);
  return (
    <span className="bench-saved soft" role="status">
      {saved === 'saved' && savedAt !== null && `Saved ${clock(savedAt)}, `}
      {SAVED_WORDS[saved]}
    </span>
  );
}

/** Another tab is at work on the bench: its work stays its own, and may be copied here. */
export function OfferStrip() {
  const offer = useHabits((habits) => habits.offer);
  if (offer === null) return null;
  return (
    <div className="strip" role="status">
      <p>
        Another tab has {offer.name} on the bench, saved {clock(offer.at)}. Each tab keeps its own work.
      </p>
      <div className="head-group">
        <button type="button" onClick={() => void openCopyOf(offer)}>
          Open a copy here
        </button>
        <button type="button" onClick={() => habitsStore.setState({ offer: null })}>
          Close
        </button>
      </div>
    </div>
  );
}
