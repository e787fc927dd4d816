import { useEffect } from 'react';
import { startReading } from './keep-reading.ts';
import { PhotoStart } from './PhotoStart.tsx';
import { PhotoTabs } from './PhotoTabs.tsx';
import { PhotoWorkbench } from './PhotoWorkbench.tsx';
import { addPhotos, usePhotoWork } from './photo-store.ts';
import { photoOf } from './photo-work.ts';
import { UndoRow } from './UndoRow.tsx';
import './photo.css';

/** Photos of paper tracings become curves in millimetres, and the curves a set of tracings. */
export default function PhotoDesk({ images }: { images: readonly File[] }) {
  const work = usePhotoWork();
  useEffect(() => {
    void addPhotos(images);
  }, [images]);
  useEffect(() => startReading(), []);
  const photo = photoOf(work);
  if (photo === null)
    return (
      <div className="photo-look desk-look">
        <div className="photo-tabs">
          <div className="end">
            <UndoRow />
          </div>
        </div>
        <PhotoStart />
      </div>
    );
  return (
    <div className="desk-halves photo-desk">
      <PhotoWorkbench key={photo.id} photo={photo} work={work} tabs={<PhotoTabs work={work} />} />
    </div>
  );
}
