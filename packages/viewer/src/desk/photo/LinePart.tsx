import { useView } from '../../state/index.ts';
import { CurveFigure } from './CurveFigure.tsx';
import { samePlane, useLineRead, usePaper } from './photo-answers.ts';
import { editLine } from './photo-store.ts';
import type { Line, Photo, Px } from './photo-work.ts';
import { Refusal } from './Refusal.tsx';

export interface LinePartProps {
  readonly photo: Photo;
  readonly line: Line;
  /** The photo's pixel in the middle of the view. */
  readonly middle: { readonly current: Px };
}

/** The line at hand: how it is clicked, and at once what it is in millimetres. */
export function LinePart({ photo, line, middle }: LinePartProps) {
  const read = useLineRead(line.id);
  const isStale = read !== undefined && (read.asked.line !== line || !samePlane(read.asked.photo, photo));
  const set = (change: Partial<Line>): void => editLine(line.id, (it) => ({ ...it, ...change }));
  const isRectangle = photo.way === 'rectangle';
  return (
    <section className="photo-part" aria-label="The line">
      <h3>{`The line: ${line.name}`}</h3>
      <p className="small">{wordsFor(line)}</p>
      <div className="photo-row">
        <label className="photo-check">
          <input
            type="checkbox"
            checked={line.isSnapped}
            onChange={(event) => set({ isSnapped: event.currentTarget.checked })}
          />
          Snap to the pen line
        </label>
        <button
          type="button"
          disabled={line.points.length === 0}
          onClick={() => set({ points: line.points.slice(0, -1) })}
        >
          Remove the last point
        </button>
        <button type="button" disabled={line.points.length === 0} onClick={() => set({ points: [] })}>
          Clear the line
        </button>
      </div>
      <div className="photo-row">
        {line.level === null ? (
          <button type="button" onClick={() => set({ level: levelAbout(photo, middle.current) })}>
            {isRectangle ? 'Mark my level line' : 'Another level line than the sheet’s'}
          </button>
        ) : (
          <button type="button" onClick={() => set({ level: null })}>
            {isRectangle ? 'Take the level line off' : 'Back to the sheet’s level line'}
          </button>
        )}
        {line.zero === null ? (
          <button type="button" onClick={() => set({ zero: middle.current })}>
            {line.kind === 'cross' ? 'Mark the midline' : 'Mark the station’s place'}
          </button>
        ) : (
          <button type="button" onClick={() => set({ zero: null })}>
            {isRectangle ? 'Take the midline mark off' : 'Back to the sheet’s midline'}
          </button>
        )}
      </div>
      {read?.refused && line.points.length > 1 && <Refusal error={read.refused} />}
      {read?.value && <Curve read={read} isStale={isStale} line={line} />}
    </section>
  );
}

function Curve({
  read,
  isStale,
  line,
}: {
  read: NonNullable<ReturnType<typeof useLineRead>>;
  isStale: boolean;
  line: Line;
}) {
  const unit = useView((view) => view.units.length);
  const { mm, levelAtMm, lengthMm, uncertaintyMm, warnings } = read.value!;
  // What holds for the whole photo stands with its scale already.
  const ofPaper = usePaper(read.asked.photo.id)?.value?.warnings ?? [];
  const ownWarnings = warnings.filter((warning) => !ofPaper.includes(warning));
  return (
    <div className={isStale ? 'photo-part stale' : 'photo-part'} aria-busy={isStale}>
      <CurveFigure points={mm} levelMm={levelAtMm} label={`${line.name} in mm on a grid of 10 mm, to one scale`} />
      <dl className="photo-said small">
        <dt>Length along the line</dt>
        <dd className="photo-length">{said(lengthMm, unit)}</dd>
        <dt>Uncertainty of a place on it</dt>
        <dd>{`± ${uncertaintyMm.toFixed(1)} mm from corners, pixels and pen; the hand that traced comes on top`}</dd>
      </dl>
      {ownWarnings.map((warning) => (
        <p key={warning} className="small photo-note">
          {warning}
        </p>
      ))}
    </div>
  );
}

const said = (mm: number, unit: 'mm' | 'in'): string =>
  unit === 'mm' ? `${mm.toFixed(1)} mm` : `${(mm / 25.4).toFixed(2)} in`;

function wordsFor({ points }: Line): string {
  if (points.length === 0)
    return 'Click one end of the pen line, then places along it to the other end. Drag the photo to move it.';
  if (points.length === 1) return 'Go on along the line; between the clicks the pen line is followed.';
  return 'Click beyond an end to go on, on the line to put a point between; drag a point, or press Delete on it.';
}

/** A level line to be dragged into place, a third of the photo wide. */
const levelAbout = (photo: Photo, [x, y]: Px): [Px, Px] => [
  [Math.max(0, x - photo.widthPx / 6), y],
  [Math.min(photo.widthPx, x + photo.widthPx / 6), y],
];
