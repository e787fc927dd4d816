import { useState } from 'react';
import { fileNameFor, saveJson } from '../../files/save-file.ts';
import { documentOf, gatherCurves, heightsUnsaid, liftToSpine, withoutStation } from './document-of.ts';
import { ontoBench, toTracings } from './onto-bench.ts';
import { useLineReads } from './photo-answers.ts';
import type { PhotoWork } from './photo-work.ts';

/** From the lines to a set of tracings: on to their desk, or into a file. */
export function DeskOut({ work }: { work: PhotoWork }) {
  const reads = useLineReads();
  const [bySpine, setBySpine] = useState(true);
  const { curves, missing } = gatherCurves(work, reads);
  const hasSpine = curves.some(({ kind }) => kind === 'lengthwise');
  const open = withoutStation(work);
  const make = () => documentOf(hasSpine && bySpine ? liftToSpine(curves) : curves, today());
  return (
    <div className="desk-end">
      {hasSpine && (
        <label className="photo-check small">
          <input type="checkbox" checked={bySpine} onChange={(event) => setBySpine(event.currentTarget.checked)} />
          Heights of the stations from the line along the spine
        </label>
      )}
      <button type="button" className="photo-main" disabled={missing !== null} onClick={() => toTracings(make())}>
        Go on to the tracings
      </button>
      <button type="button" disabled={missing !== null} onClick={() => void ontoBench(make())}>
        Straight onto the bench
      </button>
      <button
        type="button"
        disabled={missing !== null}
        onClick={() => {
          const document_ = make();
          saveJson(document_, fileNameFor(document_.name, 'back'));
        }}
      >
        Save the tracings
      </button>
      {missing === null && heightsUnsaid(work) && (
        <p className="small photo-note">
          All level lines count as lying at one height. If they did not, type their heights, or trace a line along the
          spine too.
        </p>
      )}
      <p className="small photo-out-says" role="status">
        {missing ??
          (open.length > 0
            ? `${open.join(', ')}: no station given; the tracings will ask for it.`
            : `${curves.length} curves. The tracings ask for the record too; straight onto the bench it says by whom: not stated.`)}
      </p>
    </div>
  );
}

const today = (): string => {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
};
