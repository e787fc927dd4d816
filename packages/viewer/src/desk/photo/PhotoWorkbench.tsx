import { type ReactNode, useRef } from 'react';
import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { Collected } from './Collected.tsx';
import { DeskOut } from './DeskOut.tsx';
import { drawToPen, findAgain } from './keep-reading.ts';
import { LineFields } from './LineFields.tsx';
import { LinePart } from './LinePart.tsx';
import { PhotoMarks } from './PhotoMarks.tsx';
import { PhotoView } from './PhotoView.tsx';
import { editLine, editPhoto } from './photo-store.ts';
import { lineOf, type Photo, type PhotoWork, type Px, withPoint } from './photo-work.ts';
import { bitmapOf } from './pixel-shelf.ts';
import { ScalePart } from './ScalePart.tsx';

const T = PHOTO_TEXTS.workbench;

export interface PhotoWorkbenchProps {
  readonly photo: Photo;
  readonly work: PhotoWork;
  readonly tabs: ReactNode;
}

/** One photo with the line at hand, and beside it what it comes to in millimetres. */
export function PhotoWorkbench({ photo, work, tabs }: PhotoWorkbenchProps) {
  const line = lineOf(work);
  const bitmap = bitmapOf(photo.id);
  const middle = useRef<Px>([photo.widthPx / 2, photo.heightPx / 2]);
  const add = (at: Px, reachPx: number): void => {
    if (line === null) return;
    const place = inside(photo, at);
    editLine(line.id, (it) => ({ ...it, points: withPoint(it.points, place, reachPx).points }));
    if (line.isSnapped) void drawToPen(photo.id, line.id, place, reachPx);
  };
  const putMark = (name: string): void =>
    editPhoto(photo.id, (it) => ({ ...it, byHand: { ...it.byHand, [name]: middle.current } }));
  return (
    <>
      <section className="desk-look photo-look" aria-label={T.photo}>
        {tabs}
        {bitmap === null ? (
          <p className="desk-wait">{T.gone(photo.name)}</p>
        ) : (
          <PhotoView photo={photo} bitmap={bitmap} middle={middle} onClick={add} clickSays={T.click}>
            {(over) => <PhotoMarks photo={photo} line={line} over={over} />}
          </PhotoView>
        )}
      </section>
      <section className="desk-side" aria-label={T.side}>
        <ScalePart photo={photo} onPutMark={putMark} onLook={() => void findAgain(photo.id)} />
        {line !== null && (
          <>
            <LinePart photo={photo} line={line} middle={middle} />
            <LineFields line={line} work={work} />
          </>
        )}
        <Collected work={work} />
        <DeskOut work={work} />
      </section>
    </>
  );
}

const inside = ({ widthPx, heightPx }: Photo, [x, y]: Px): Px => [
  Math.min(widthPx, Math.max(0, x)),
  Math.min(heightPx, Math.max(0, y)),
];
