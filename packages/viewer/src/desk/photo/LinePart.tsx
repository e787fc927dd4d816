import { PHOTO_LINE_TEXTS } from '../../look/texts/photo-line.ts';
import { useView } from '../../state/index.ts';
import { CurveFigure } from './CurveFigure.tsx';
import { samePlane, useLineRead, usePaper } from './photo-answers.ts';
import { editLine } from './photo-store.ts';
import type { Line, Photo, Px } from './photo-work.ts';
import { Refusal } from './Refusal.tsx';

const T = PHOTO_LINE_TEXTS.line;

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
  const own = photo.way === 'rectangle' ? T.onRectangle : T.onSheet;
  return (
    <section className="photo-part" aria-label={T.label}>
      <h3>{T.title(line.name)}</h3>
      <p className="small">{wordsFor(line)}</p>
      <div className="photo-row">
        <label className="photo-check">
          <input
            type="checkbox"
            checked={line.isSnapped}
            onChange={(event) => set({ isSnapped: event.currentTarget.checked })}
          />
          {T.snap}
        </label>
        <button
          type="button"
          disabled={line.points.length === 0}
          onClick={() => set({ points: line.points.slice(0, -1) })}
        >
          {T.removeLast}
        </button>
        <button type="button" disabled={line.points.length === 0} onClick={() => set({ points: [] })}>
          {T.clear}
        </button>
      </div>
      <div className="photo-row">
        {line.level === null ? (
          <button type="button" onClick={() => set({ level: levelAbout(photo, middle.current) })}>
            {own.markLevel}
          </button>
        ) : (
          <button type="button" onClick={() => set({ level: null })}>
            {own.levelOff}
          </button>
        )}
        {line.zero === null ? (
          <button type="button" onClick={() => set({ zero: middle.current })}>
            {T.markZero[line.kind]}
          </button>
        ) : (
          <button type="button" onClick={() => set({ zero: null })}>
            {own.zeroOff}
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
      <CurveFigure points={mm} levelMm={levelAtMm} label={T.curve(line.name)} />
      <dl className="photo-said small">
        <dt>{T.length}</dt>
        <dd className="photo-length">{said(lengthMm, unit)}</dd>
        <dt>{T.uncertainty}</dt>
        <dd>{T.plusOrMinus(uncertaintyMm.toFixed(1))}</dd>
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
  unit === 'mm' ? T.lengths.mm(mm.toFixed(1)) : T.lengths.in((mm / 25.4).toFixed(2));

function wordsFor({ points }: Line): string {
  if (points.length === 0) return T.start;
  if (points.length === 1) return T.goOn;
  return T.change;
}

/** A level line to be dragged into place, a third of the photo wide. */
const levelAbout = (photo: Photo, [x, y]: Px): [Px, Px] => [
  [Math.max(0, x - photo.widthPx / 6), y],
  [Math.min(photo.widthPx, x + photo.widthPx / 6), y],
];
