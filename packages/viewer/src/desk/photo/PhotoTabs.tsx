import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { lookAt, removePhoto, startOver, useTalk } from './photo-store.ts';
import type { PhotoWork } from './photo-work.ts';
import { UndoRow } from './UndoRow.tsx';

const T = PHOTO_TEXTS.tabs;

/** The photos on the desk, and what holds for all of them. */
export function PhotoTabs({ work }: { work: PhotoWork }) {
  const { refused, isReading } = useTalk();
  return (
    <div className="photo-tabs">
      <fieldset className="switch">
        <legend className="visually-hidden">{T.label}</legend>
        {work.photos.map(({ id, name }) => (
          <button key={id} type="button" aria-pressed={id === work.photoId} onClick={() => lookAt(id)}>
            {name}
          </button>
        ))}
      </fieldset>
      {isReading && <span className="small soft">{T.reading}</span>}
      <div className="end">
        <UndoRow />
        <button type="button" onClick={() => work.photoId !== null && removePhoto(work.photoId)}>
          {T.remove}
        </button>
        <button type="button" onClick={startOver}>
          {T.startOver}
        </button>
      </div>
      {refused.map((why) => (
        <p key={why} className="photo-refused small" role="alert">
          {why}
        </p>
      ))}
    </div>
  );
}
