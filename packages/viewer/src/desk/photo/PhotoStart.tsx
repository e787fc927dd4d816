import { useState } from 'react';
import { PhotoChooser } from './PhotoChooser.tsx';
import { PrintSheet } from './PrintSheet.tsx';
import { useTalk } from './photo-store.ts';
import { SheetPicture } from './SheetPicture.tsx';

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
            <p>
              Bend a flexible rule over the back, lay it on paper, draw along it, and photograph the paper. The desk
              finds the sheet in the photo, follows your line, and gives the curve in millimetres.
            </p>
            <ol className="photo-steps">
              <li>
                <SheetPicture picture="trace" />
                <h3>Trace</h3>
                <p className="small">
                  On our printed sheet, or on any paper whose size you know. Draw the level line where the spirit level
                  lay, and mark the spine.
                </p>
                <button type="button" onClick={() => setPrinting(true)}>
                  Print a tracing sheet
                </button>
              </li>
              <li>
                <SheetPicture picture="photograph" />
                <h3>Photograph</h3>
                <p className="small">
                  From straight above, a metre or more away, zoomed in rather than close. All four corners in the
                  picture, no shadow across the line, the paper flat.
                </p>
              </li>
              <li>
                <SheetPicture picture="follow" />
                <h3>Follow the line</h3>
                <p className="small">
                  Choose the photos of all stations at once, or drop them here. A few clicks along each line are enough.
                </p>
                <PhotoChooser label={isReading ? 'Reading the photos…' : 'Choose photos'} isMain />
              </li>
            </ol>
            <p className="small soft">
              Photos are read on this page alone and are gone when it is closed; save the tracings. Without the sheet,
              four corners of a rectangle of known size lying on the same table do as well (a sheet of A4 or Letter).
              One known length is not enough: it says nothing of the tilt.
            </p>
          </>
        )}
      </div>
    </div>
  );
}
