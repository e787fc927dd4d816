import { useState } from 'react';
import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { PhotoChooser } from './PhotoChooser.tsx';
import { PrintSheet } from './PrintSheet.tsx';
import { useTalk } from './photo-store.ts';
import { SheetPicture } from './SheetPicture.tsx';

const T = PHOTO_TEXTS.start;

/** Nothing on the desk yet: what a good photo is, and the sheet that makes it easy. */
export function PhotoStart() {
  const [printing, setPrinting] = useState(false);
  const { refused, isReading } = useTalk();
  return (
    <div className="photo-start">
      <div className="photo-start-body">
        {refused.map((why) => (
          <p key={why} className="photo-refused" role="alert">
            {why}
          </p>
        ))}
        {printing ? (
          <PrintSheet onClose={() => setPrinting(false)} />
        ) : (
          <>
            <p>{T.says}</p>
            <ol className="photo-steps">
              <li>
                <SheetPicture picture="trace" />
                <h3>{T.trace.title}</h3>
                <p className="small">{T.trace.says}</p>
                <button type="button" onClick={() => setPrinting(true)}>
                  {T.trace.print}
                </button>
              </li>
              <li>
                <SheetPicture picture="photograph" />
                <h3>{T.photograph.title}</h3>
                <p className="small">{T.photograph.says}</p>
              </li>
              <li>
                <SheetPicture picture="follow" />
                <h3>{T.follow.title}</h3>
                <p className="small">{T.follow.says}</p>
                <PhotoChooser label={isReading ? T.follow.reading : T.follow.choose} isMain />
              </li>
            </ol>
            <p className="small soft">{T.note}</p>
          </>
        )}
      </div>
    </div>
  );
}
