import { PhotoChooser } from './PhotoChooser.tsx';
import { useLineReads } from './photo-answers.ts';
import { addLine, lookAt, removeLine } from './photo-store.ts';
import type { Line, Photo, PhotoWork } from './photo-work.ts';

/** Every line of every photo, where it is, and the ways to more of them. */
export function Collected({ work }: { work: PhotoWork }) {
  const reads = useLineReads();
  const rows = work.photos.flatMap((photo) => photo.lines.map((line) => ({ photo, line })));
  return (
    <section className="photo-part" aria-label="Lines so far">
      <h3>Lines so far</h3>
      <table className="photo-list">
        <thead>
          <tr>
            <th scope="col">Line</th>
            <th scope="col">Where</th>
            <th scope="col">Length</th>
            <th scope="col">
              <span className="visually-hidden">Remove</span>
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
                  {line.name || 'without a name'}
                </button>
                <span className="small soft">{` ${photo.name}`}</span>
              </th>
              <td className="small">{placeOf(line)}</td>
              <td className="small">{lengthSaid(photo, line, reads[line.id])}</td>
              <td>
                <button
                  type="button"
                  className="plain small"
                  aria-label={`Remove ${line.name}`}
                  onClick={() => removeLine(line.id)}
                >
                  Remove
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="photo-row">
        <button type="button" onClick={addLine}>
          Another line in this photo
        </button>
        <PhotoChooser label="Add photos" />
      </div>
    </section>
  );
}

function placeOf(line: Line): string {
  const station =
    line.station.trim() === ''
      ? 'station not given'
      : `${line.station.trim()}${/[a-z"]$/i.test(line.station.trim()) ? '' : ` ${line.unit}`}`;
  if (line.kind === 'lengthwise') return `along the spine, from ${station}`;
  return `${station}, ${line.side === 'both' ? 'both sides' : line.side}`;
}

function lengthSaid(photo: Photo, line: Line, read: ReturnType<typeof useLineReads>[number] | undefined): string {
  if (line.points.length === 0) return 'no points yet';
  if (photo.way === 'length') return 'no millimetres';
  if (read === undefined) return '…';
  return read.value === null ? 'not read' : `${read.value.lengthMm.toFixed(0)} mm`;
}
