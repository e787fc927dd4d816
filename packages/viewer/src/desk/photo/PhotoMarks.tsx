import { PHOTO_LINE_TEXTS } from '../../look/texts/photo-line.ts';
import { Handle } from './Handle.tsx';
import type { OverPhoto } from './PhotoView.tsx';
import { useLineRead, usePaper } from './photo-answers.ts';
import { editLine, editPhoto } from './photo-store.ts';
import type { Line, Photo, Px } from './photo-work.ts';
import { allMarks, markCaption, marksOf } from './sheet-marks.ts';

const T = PHOTO_LINE_TEXTS.handles;
/** Of a level line, in the order of its points. */
const ENDS = ['left', 'right'] as const;

export interface PhotoMarksProps {
  readonly photo: Photo;
  readonly line: Line | null;
  readonly over: OverPhoto;
}

/** All that is drawn over the photo: the sheet or rectangle, other lines, the line at hand and its handles. */
export function PhotoMarks({ photo, line, over }: PhotoMarksProps) {
  return (
    <>
      {photo.way === 'sheet' && <SheetHandles photo={photo} over={over} />}
      {photo.way === 'rectangle' && <CornerHandles photo={photo} over={over} />}
      {photo.lines
        .filter(({ id }) => id !== line?.id)
        .map((other) => (
          <LinePath key={other.id} line={other} over={over} isOther />
        ))}
      {line !== null && (
        <>
          <LinePath line={line} over={over} />
          <PaperLevel photo={photo} line={line} over={over} />
          <LineHandles line={line} over={over} />
        </>
      )}
    </>
  );
}

function SheetHandles({ photo, over }: { photo: Photo; over: OverPhoto }) {
  const marks = marksOf(photo);
  const there = allMarks(photo.sheet.tiles).filter(({ name }) => name in marks);
  return (
    <>
      {there.map((mark) => {
        const at = marks[mark.name]!;
        const isByHand = mark.name in photo.byHand;
        return (
          <Handle
            key={mark.name}
            at={at}
            screen={over.screen(at)}
            scale={over.scale}
            shape="corner"
            isLoose={isByHand}
            caption={markCaption(mark, photo.sheet.tiles)}
            captionOn={mark.corner.endsWith('left') ? 'right' : 'left'}
            label={T.mark(mark.name, isByHand)}
            onHold={over.hold}
            onMove={(to, step) =>
              editPhoto(photo.id, (it) => ({ ...it, byHand: { ...it.byHand, [mark.name]: to } }), step)
            }
            onRemove={() => editPhoto(photo.id, (it) => ({ ...it, byHand: without(it.byHand, mark.name) }))}
          />
        );
      })}
    </>
  );
}

function without<T>(record: Readonly<Record<string, T>>, name: string): Record<string, T> {
  return Object.fromEntries(Object.entries(record).filter(([key]) => key !== name));
}

function CornerHandles({ photo, over }: { photo: Photo; over: OverPhoto }) {
  const outline = photo.corners.map((at) => over.screen(at).join(',')).join(' ');
  return (
    <>
      <polygon className="outline" points={outline} />
      {photo.corners.map((at, i) => (
        <Handle
          key={T.corners[i]}
          at={at}
          screen={over.screen(at)}
          scale={over.scale}
          shape="corner"
          caption={String(i + 1)}
          label={T.corner(i + 1, T.corners[i])}
          onHold={over.hold}
          onMove={(to, step) =>
            editPhoto(photo.id, (it) => ({ ...it, corners: it.corners.map((c, k) => (k === i ? to : c)) }), step)
          }
        />
      ))}
    </>
  );
}

/** What was followed along the pen; straight from point to point until then. */
function LinePath({ line, over, isOther = false }: { line: Line; over: OverPhoto; isOther?: boolean }) {
  const read = useLineRead(line.id);
  const isRead = read !== undefined && read.path.length > 0 && read.asked.line.points === line.points;
  const points = isRead ? read.path : line.points;
  const className = `path${isRead ? '' : ' straight'}${isOther ? ' other' : ''}`;
  return <polyline className={className} points={points.map((at) => screenText(over, at)).join(' ')} />;
}

const screenText = (over: OverPhoto, at: Px): string =>
  over
    .screen(at)
    .map((v) => v.toFixed(1))
    .join(',');

/** The level line that counts: the person's own, or the paper's as the photo shows it. */
function PaperLevel({ photo, line, over }: PhotoMarksProps & { line: Line }) {
  const paper = usePaper(photo.id);
  const ends = line.level ?? paper?.value?.levelPx ?? null;
  if (ends === null) return null;
  return <polyline className="level-line" points={ends.map((at) => screenText(over, at)).join(' ')} />;
}

function LineHandles({ line, over }: { line: Line; over: OverPhoto }) {
  const { level, zero } = line;
  const read = useLineRead(line.id);
  // A point shows where it was drawn to on the pen line, as soon as that is known.
  const path = line.isSnapped && read?.asked.line.points === line.points ? read.path : [];
  const shown = line.points.map((at) => nearestOn(path, at));
  const set = (change: Partial<Line>, step: string): void => editLine(line.id, (it) => ({ ...it, ...change }), step);
  return (
    <>
      {level !== null &&
        ENDS.map((end, i) => (
          <Handle
            key={end}
            at={level[i]!}
            screen={over.screen(level[i]!)}
            scale={over.scale}
            shape="level"
            caption={T.levelCaption[end]}
            label={T.level[end]}
            onHold={over.hold}
            onMove={(to, step) => set({ level: end === 'left' ? [to, level[1]] : [level[0], to] }, step)}
            onRemove={() => editLine(line.id, (it) => ({ ...it, level: null }))}
          />
        ))}
      {zero !== null && (
        <Handle
          at={zero}
          screen={over.screen(zero)}
          scale={over.scale}
          shape="level"
          caption={T.zeroCaption[line.kind]}
          label={T.zero[line.kind]}
          onHold={over.hold}
          onMove={(to, step) => set({ zero: to }, step)}
          onRemove={() => editLine(line.id, (it) => ({ ...it, zero: null }))}
        />
      )}
      {shown.map((at, i) => (
        <Handle
          // biome-ignore lint/suspicious/noArrayIndexKey: a point is known by its place in the line, and keeps the focus while it moves
          key={i}
          at={at}
          screen={over.screen(at)}
          scale={over.scale}
          shape="point"
          label={T.point(i + 1, line.points.length, line.name)}
          onHold={over.hold}
          onMove={(to, step) =>
            editLine(line.id, (it) => ({ ...it, points: it.points.map((p, k) => (k === i ? to : p)) }), step)
          }
          onRemove={() => editLine(line.id, (it) => ({ ...it, points: it.points.filter((_, k) => k !== i) }))}
        />
      ))}
    </>
  );
}

function nearestOn(path: readonly Px[], at: Px): Px {
  let best = at;
  let least = Number.POSITIVE_INFINITY;
  for (const p of path) {
    const far = Math.hypot(p[0] - at[0], p[1] - at[1]);
    if (far < least) [best, least] = [p, far];
  }
  return best;
}
