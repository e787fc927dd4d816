import { TEXTS } from '../look/texts.ts';
import { useDocument, useResult } from '../state/index.ts';
import { cancelOpening } from '../worker/cancel-opening.ts';

const DOING = {
  reading: 'reading the file',
  cleaning: 'cleaning the mesh',
  shaping: 'working out its shape',
  seating: 'seating the tree',
} as const;

/** How far the opening of a scan is, and the way back. */
export function Progress() {
  const progress = useResult((result) => result.progress);
  const name = useDocument((documents) => documents.back.name);
  if (progress === null) return null;
  const says = `Opening ${name}: ${DOING[progress.phase]}`;
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
