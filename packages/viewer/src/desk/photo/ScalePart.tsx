import { MOST_TILES, SHEET_PAPERS } from '@barwright/geometry';
import { PHOTO_LINE_TEXTS } from '../../look/texts/photo-line.ts';
import { PHOTO_READING_TEXTS } from '../../look/texts/photo-reading.ts';
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

const T = PHOTO_LINE_TEXTS.scale;
const WAYS: readonly Way[] = ['sheet', 'rectangle', 'length'];

/** How the photo comes by its millimetres. */
export function ScalePart({ photo, onPutMark, onLook }: ScalePartProps) {
  return (
    <section className="photo-part" aria-label={T.label}>
      <h3>{T.title}</h3>
      <fieldset className="switch photo-ways">
        <legend className="visually-hidden">{T.title}</legend>
        {WAYS.map((way) => (
          <button
            key={way}
            type="button"
            aria-pressed={photo.way === way}
            onClick={() => editPhoto(photo.id, (it) => (it.way === way ? it : { ...it, way }))}
          >
            {T.ways[way]}
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
  if (isSearching) return <p className="small soft">{T.searching}</p>;
  return (
    <>
      <p className="small" role="status">
        {count === 0 ? T.noMark : T.inPlace(photo.found?.says ?? null, count, missing.length === 0)}
      </p>
      {reason !== null && count > 0 && <p className="small photo-note">{reason}</p>}
      {photo.found === null && <SheetChooser photo={photo} />}
      {missing.length > 0 && (
        <>
          <p className="small">{`${T.missing(missing)}${count > 0 ? T.enough : ''}`}</p>
          <div className="photo-row">
            {missing.map((name) => (
              <button key={name} type="button" onClick={() => onPutMark(name)}>
                {T.put(name)}
              </button>
            ))}
          </div>
        </>
      )}
      <div className="photo-row">
        <button type="button" onClick={onLook}>
          {T.again}
        </button>
        {Object.keys(photo.byHand).length > 0 && (
          <button type="button" onClick={() => editPhoto(photo.id, (it) => ({ ...it, byHand: {} }))}>
            {T.takeBack}
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
      <Field label={T.paper}>
        {(id) => (
          <select
            id={id}
            value={photo.sheet.paper}
            onChange={(event) => set({ ...photo.sheet, paper: event.currentTarget.value as Photo['sheet']['paper'] })}
          >
            {SHEET_PAPERS.map((paper) => (
              <option key={paper} value={paper}>
                {PHOTO_READING_TEXTS.papers[paper]}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label={T.tiles}>
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
  [T.presets.a4Upright, '210', '297'],
  [T.presets.a4Lying, '297', '210'],
  [T.presets.letterUpright, '8 1/2 in', '11 in'],
  [T.presets.letterLying, '11 in', '8 1/2 in'],
];

function RectangleFields({ photo }: { photo: Photo }) {
  const { width, height } = photo.rectangle;
  const set = (rectangle: Photo['rectangle'], step?: string): void =>
    editPhoto(photo.id, (it) => ({ ...it, rectangle }), step);
  return (
    <>
      <p className="small">{T.corners}</p>
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
        <Field label={T.width} hint={T.widthHint}>
          {(id, says) => (
            <input
              id={id}
              aria-describedby={says}
              value={width}
              maxLength={40}
              onChange={(event) => set({ width: event.currentTarget.value, height }, `${photo.id}-width`)}
            />
          )}
        </Field>
        <Field label={T.height} hint={T.heightHint}>
          {(id, says) => (
            <input
              id={id}
              aria-describedby={says}
              value={height}
              maxLength={40}
              onChange={(event) => set({ width, height: event.currentTarget.value }, `${photo.id}-height`)}
            />
          )}
        </Field>
      </div>
    </>
  );
}

function KnownLength({ photo }: { photo: Photo }) {
  return (
    <Field label={T.known} hint={T.knownHint}>
      {(id, says) => (
        <input
          id={id}
          aria-describedby={says}
          value={photo.knownLength}
          maxLength={40}
          onChange={(event) => {
            const knownLength = event.currentTarget.value;
            editPhoto(photo.id, (it) => ({ ...it, knownLength }), `${photo.id}-known-length`);
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
        <dt>{T.agree}</dt>
        <dd>{residualMm === null ? T.onlyFour : T.within(residualMm.toFixed(2))}</dd>
        <dt>{T.bend}</dt>
        <dd>{bendMm === null ? T.noBend : T.within(bendMm.toFixed(2))}</dd>
      </dl>
      {warnings.map((warning) => (
        <p key={warning} className="small photo-note">
          {warning}
        </p>
      ))}
    </div>
  );
}
