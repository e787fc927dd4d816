import { TEXTS } from '../look/texts.ts';
import { useDocument, useResult } from '../state/index.ts';
import { cancelOpening } from '../worker/cancel-opening.ts';

/** How far the opening of a scan is, and the way back. */
export function Progress() {
  const progress = useResult((result) => result.progress);
  const name = useDocument((documents) => documents.back.name);
  if (progress === null) return null;
  const says = TEXTS.page.opening(name, TEXTS.page.phases[progress.phase]);
  return (
    <div className="strip">
      <p>
        <span role="status">{says}.</span> <progress max={1} value={progress.fraction} aria-label={says} />
      </p>
      <button type="button" onClick={cancelOpening}>
        {TEXTS.page.cancel}
      </button>
    </div>
  );
}
