import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { PhotoChooser } from './PhotoChooser.tsx';
import { useLineReads } from './photo-answers.ts';
import { addLine, lookAt, removeLine } from './photo-store.ts';
import type { Line, Photo, PhotoWork } from './photo-work.ts';

const T = PHOTO_TEXTS.collected;

/** Every line of every photo, where it is, and the ways to more of them. */
export function Collected({ work }: { work: PhotoWork }) {
  const reads = useLineReads();
  const rows = work.photos.flatMap((photo) => photo.lines.map((line) => ({ photo, line })));
  return (
    <section className="photo-part" aria-label={T.title}>
      <h3>{T.title}</h3>
      <table className="photo-list">
        <thead>
          <tr>
            <th scope="col">{T.columns.line}</th>
            <th scope="col">{T.columns.where}</th>
            <th scope="col">{T.columns.length}</th>
            <th scope="col">
              <span className="visually-hidden">{T.remove}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ photo, line }) => (
            <tr key={line.id} className={line.id === work.lineId ? 'at' : undefined}>
              <th scope="row">
                <button
                  type="button"
                  className="plain"
                  aria-current={line.id === work.lineId}
                  onClick={() => lookAt(photo.id, line.id)}
                >
                  {line.name || T.unnamed}
                </button>
                <span className="small soft">{` ${photo.name}`}</span>
              </th>
              <td className="small">{placeOf(line)}</td>
              <td className="small">{lengthSaid(photo, line, reads[line.id])}</td>
              <td>
                <button
                  type="button"
                  className="plain small"
                  aria-label={T.removeLine(line.name)}
                  onClick={() => removeLine(line.id)}
                >
                  {T.remove}
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="photo-row">
        <button type="button" onClick={addLine}>
          {T.another}
        </button>
        <PhotoChooser label={T.addPhotos} />
      </div>
    </section>
  );
}

function placeOf(line: Line): string {
  const station =
    line.station.trim() === ''
      ? T.noStation
      : `${line.station.trim()}${/[a-z"]$/i.test(line.station.trim()) ? '' : ` ${line.unit}`}`;
  if (line.kind === 'lengthwise') return T.alongSpine(station);
  return T.across(station, T.sides[line.side]);
}

function lengthSaid(photo: Photo, line: Line, read: ReturnType<typeof useLineReads>[number] | undefined): string {
  if (line.points.length === 0) return T.noPoints;
  if (photo.way === 'length') return T.noScale;
  if (read === undefined) return T.reading;
  return read.value === null ? T.unread : T.length(read.value.lengthMm.toFixed(0));
}
