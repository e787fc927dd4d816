import { MOST_TILES, SHEET_PAPERS } from '@barwright/geometry';
import { Field } from '../RecordForm.tsx';
import { samePlane, usePaper, useReason, useSearching } from './photo-answers.ts';
import { editPhoto } from './photo-store.ts';
import type { Photo, Way } from './photo-work.ts';
import { Refusal } from './Refusal.tsx';
import { marksOf, missingMarks } from './sheet-marks.ts';

export interface ScalePartProps {
  readonly photo: Photo;
  /** Puts a mark that wasn't found where the person looks. */
  readonly onPutMark: (name: string) => void;
  readonly onLook: () => void;
}

const WAYS: Readonly<Record<Way, string>> = {
  sheet: 'Our tracing sheet',
  rectangle: 'Four corners of a rectangle',
  length: 'One known length',
};

/** How the photo comes by its millimetres. */
export function ScalePart({ photo, onPutMark, onLook }: ScalePartProps) {
  return (
    <section className="photo-part" aria-label="Scale of the photo">
      <h3>Millimetres from</h3>
      <fieldset className="switch photo-ways">
        <legend className="visually-hidden">Millimetres from</legend>
        {(Object.keys(WAYS) as Way[]).map((way) => (
          <button
            key={way}
            type="button"
            aria-pressed={photo.way === way}
            onClick={() => editPhoto(photo.id, (it) => (it.way === way ? it : { ...it, way }))}
          >
            {WAYS[way]}
          </button>
        ))}
      </fieldset>
      {photo.way === 'sheet' && <SheetMarks photo={photo} onPutMark={onPutMark} onLook={onLook} />}
      {photo.way === 'rectangle' && <RectangleFields photo={photo} />}
      {photo.way === 'length' && <KnownLength photo={photo} />}
      <PaperSaid photo={photo} />
    </section>
  );
}

function SheetMarks({ photo, onPutMark, onLook }: ScalePartProps) {
  const isSearching = useSearching(photo.id);
  const reason = useReason(photo.id);
  const marks = marksOf(photo);
  const missing = missingMarks(photo);
  const count = Object.keys(marks).length;
  if (isSearching) return <p className="small soft">Looking for the sheet’s marks…</p>;
  return (
    <>
      <p className="small" role="status">
        {count === 0
          ? 'No mark of a tracing sheet was found. If it is there, say which sheet it is and put its corners by hand; else use a rectangle.'
          : `${photo.found === null ? '' : `${photo.found.says}. `}${count} ${count === 1 ? 'mark' : 'marks'} in place${missing.length === 0 ? ', none missing' : ''}.`}
      </p>
      {reason !== null && count > 0 && <p className="small photo-note">{reason}</p>}
      {photo.found === null && <SheetChooser photo={photo} />}
      {missing.length > 0 && (
        <>
          <p className="small">
            {`Not found: ${missing.join('; ')}. ${count > 0 ? 'The others are enough where they fix the plane; put a missing one by hand for a better hold.' : ''}`}
          </p>
          <div className="photo-row">
            {missing.map((name) => (
              <button key={name} type="button" onClick={() => onPutMark(name)}>
                {`Put ${name}`}
              </button>
            ))}
          </div>
        </>
      )}
      <div className="photo-row">
        <button type="button" onClick={onLook}>
          Look for the marks again
        </button>
        {Object.keys(photo.byHand).length > 0 && (
          <button type="button" onClick={() => editPhoto(photo.id, (it) => ({ ...it, byHand: {} }))}>
            Take back marks put by hand
          </button>
        )}
      </div>
    </>
  );
}

const COUNTS: readonly number[] = Array.from({ length: MOST_TILES }, (_, i) => i + 1);

/** Which sheet it is, when it didn't say so itself. */
function SheetChooser({ photo }: { photo: Photo }) {
  const set = (sheet: Photo['sheet']): void => editPhoto(photo.id, (it) => ({ ...it, sheet, byHand: {} }));
  return (
    <div className="photo-row">
      <Field label="Paper">
        {(id) => (
          <select
            id={id}
            value={photo.sheet.paper}
            onChange={(event) => set({ ...photo.sheet, paper: event.currentTarget.value as Photo['sheet']['paper'] })}
          >
            {SHEET_PAPERS.map((paper) => (
              <option key={paper} value={paper}>
                {paper === 'a4' ? 'A4' : 'Letter'}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label="Sheets taped side by side">
        {(id) => (
          <select
            id={id}
            value={photo.sheet.tiles}
            onChange={(event) => set({ ...photo.sheet, tiles: Number(event.currentTarget.value) })}
          >
            {COUNTS.map((count) => (
              <option key={count} value={count}>
                {count}
              </option>
            ))}
          </select>
        )}
      </Field>
    </div>
  );
}

const PRESETS: readonly (readonly [string, string, string])[] = [
  ['A4 upright', '210', '297'],
  ['A4 lying', '297', '210'],
  ['Letter upright', '8 1/2 in', '11 in'],
  ['Letter lying', '11 in', '8 1/2 in'],
];

function RectangleFields({ photo }: { photo: Photo }) {
  const { width, height } = photo.rectangle;
  const set = (rectangle: Photo['rectangle'], step?: string): void =>
    editPhoto(photo.id, (it) => ({ ...it, rectangle }), step);
  return (
    <>
      <p className="small">
        Drag corners 1 to 4 to the corners of the rectangle: 1 top left, then clockwise. Then mark your level line
        below; without one the tracings will ask how the paper lay.
      </p>
      <div className="photo-row">
        {PRESETS.map(([name, w, h]) => (
          <button
            key={name}
            type="button"
            aria-pressed={w === width && h === height}
            onClick={() => set({ width: w, height: h })}
          >
            {name}
          </button>
        ))}
      </div>
      <div className="desk-form">
        <Field label="Side from 1 to 2" hint="mm, or 8 1/2 in">
          {(id, says) => (
            <input
              id={id}
              aria-describedby={says}
              value={width}
              maxLength={40}
              onChange={(event) => set({ width: event.currentTarget.value, height }, 'rectangle width')}
            />
          )}
        </Field>
        <Field label="Side from 2 to 3" hint="mm, or 11 in">
          {(id, says) => (
            <input
              id={id}
              aria-describedby={says}
              value={height}
              maxLength={40}
              onChange={(event) => set({ width, height: event.currentTarget.value }, 'rectangle height')}
            />
          )}
        </Field>
      </div>
    </>
  );
}

function KnownLength({ photo }: { photo: Photo }) {
  return (
    <Field label="The length you know" hint="mm">
      {(id, says) => (
        <input
          id={id}
          aria-describedby={says}
          value={photo.knownLength}
          maxLength={40}
          onChange={(event) => {
            const knownLength = event.currentTarget.value;
            editPhoto(photo.id, (it) => ({ ...it, knownLength }), 'known length');
          }}
        />
      )}
    </Field>
  );
}

function PaperSaid({ photo }: { photo: Photo }) {
  const answer = usePaper(photo.id);
  if (answer === undefined) return null;
  if (answer.refused !== null) return <Refusal error={answer.refused} />;
  if (answer.value === null) return null;
  const { residualMm, bendMm, warnings } = answer.value;
  return (
    <div className={samePlane(answer.asked, photo) ? '' : 'stale'}>
      <dl className="photo-said small">
        <dt>Corners agree within</dt>
        <dd>
          {residualMm === null ? 'four corners: nothing is left over to check them by' : `${residualMm.toFixed(2)} mm`}
        </dd>
        <dt>Lens bend at the mid-edge marks</dt>
        <dd>{bendMm === null ? 'not seen: no mid-edge marks in this photo' : `${bendMm.toFixed(2)} mm`}</dd>
      </dl>
      {warnings.map((warning) => (
        <p key={warning} className="small photo-note">
          {warning}
        </p>
      ))}
    </div>
  );
}
