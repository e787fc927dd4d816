import { useEffect } from 'react';
import { openCopyOf } from '../habits/go-back.ts';
import { clock, habitsStore, useHabits } from '../habits/habits-store.ts';
import { TEXTS } from '../look/texts.ts';
import { type RefusedEdit, resultStore, useResult, useSentence } from '../state/index.ts';

const T = TEXTS.page;

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
        {T.expected(shown.expected)}
        {shown.got !== undefined && T.found(shown.got)}. {shown.remedy}
        {error !== null && hasFit && T.olderBelow}
      </p>
      {error === null && (
        <button type="button" onClick={() => resultStore.setState({ refused: null })}>
          {T.close}
        </button>
      )}
    </div>
  );
}

export function NoticeStrip() {
  const notice = useResult((result) => result.notice);
  const warnings = useResult((result) => result.back?.warnings ?? NONE);
  const sentence = useSentence();
  useEffect(() => {
    if (notice === null) return;
    const timer = setTimeout(() => resultStore.setState({ notice: null }), NOTICE_MS);
    return () => clearTimeout(timer);
  }, [notice]);
  if (notice === null && warnings.length === 0) return null;
  return (
    <div className="strip" role="status">
      <p>{[notice, ...warnings.map(sentence)].filter((said) => said !== null).join(' ')}</p>
      {notice !== null && (
        <button type="button" onClick={() => resultStore.setState({ notice: null })}>
          {T.close}
        </button>
      )}
    </div>
  );
}

const NONE: readonly string[] = [];
const NOTICE_MS = 12_000;

/** Whether the documents would outlive the page, and since when. */
export function SavedWord() {
  const saved = useResult((result) => result.saved);
  const savedAt = useHabits((habits) => habits.savedAt);
  return (
    <span className="bench-saved soft" role="status">
      {saved === 'saved' && savedAt !== null && T.saved(clock(savedAt))}
      {T.savedWords[saved]}
    </span>
  );
}

/** Another tab is at work on the bench: its work stays its own, and may be copied here. */
export function OfferStrip() {
  const offer = useHabits((habits) => habits.offer);
  if (offer === null) return null;
  return (
    <div className="strip" role="status">
      <p>{T.otherTab(offer.name, clock(offer.at))}</p>
      <div className="head-group">
        <button type="button" onClick={() => void openCopyOf(offer)}>
          {T.openCopy}
        </button>
        <button type="button" onClick={() => habitsStore.setState({ offer: null })}>
          {T.close}
        </button>
      </div>
    </div>
  );
}
