import { useState } from 'react';
import { fileNameFor, saveJson } from '../../files/save-file.ts';
import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { todayIso } from '../../look/today.ts';
import { documentOf, gatherCurves, heightsUnsaid, liftToSpine, withoutStation } from './document-of.ts';
import { ontoBench, toTracings } from './onto-bench.ts';
import { useLineReads } from './photo-answers.ts';
import type { PhotoWork } from './photo-work.ts';

const T = PHOTO_TEXTS.out;

/** From the lines to a set of tracings: on to their desk, or into a file. */
export function DeskOut({ work }: { work: PhotoWork }) {
  const reads = useLineReads();
  const [bySpine, setBySpine] = useState(true);
  const { curves, missing } = gatherCurves(work, reads);
  const hasSpine = curves.some(({ kind }) => kind === 'lengthwise');
  const open = withoutStation(work);
  const make = () => documentOf(hasSpine && bySpine ? liftToSpine(curves) : curves, todayIso());
  return (
    <div className="desk-end">
      {hasSpine && (
        <label className="photo-check small">
          <input type="checkbox" checked={bySpine} onChange={(event) => setBySpine(event.currentTarget.checked)} />
          {T.heightsBySpine}
        </label>
      )}
      <button type="button" className="photo-main" disabled={missing !== null} onClick={() => toTracings(make())}>
        {T.toTracings}
      </button>
      <button type="button" disabled={missing !== null} onClick={() => void ontoBench(make())}>
        {T.ontoBench}
      </button>
      <button
        type="button"
        disabled={missing !== null}
        onClick={() => {
          const document_ = make();
          saveJson(document_, fileNameFor(document_.name, 'back'));
        }}
      >
        {T.save}
      </button>
      {missing === null && heightsUnsaid(work) && <p className="small photo-note">{T.heightsUnsaid}</p>}
      <p className="small photo-out-says" role="status">
        {missing ?? (open.length > 0 ? T.noStation(open) : T.curves(curves.length))}
      </p>
    </div>
  );
}
