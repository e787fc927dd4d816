import type { InputErrorDetails } from '@barwright/geometry';
import { PHOTO_READING_TEXTS } from '../../look/texts/photo-reading.ts';
import { Interrupted } from '../../worker/worker-line.ts';
import { heightMm, stationMm } from './line-fields.ts';
import { type AskedLine, answerStore, isSameAsked, samePlane } from './photo-answers.ts';
import type { LineRequest, SheetFound } from './photo-service.ts';
import { photoDesk } from './photo-store.ts';
import { changeLine, changePhoto, type Line, type Photo, type PhotoWork, type Px, partsOf } from './photo-work.ts';
import { type Asked, askAbout, bitmapOf } from './pixel-shelf.ts';
import { planeRequest } from './plane-request.ts';

/** Marks by photo: what was found stays found when older states come back by undo. */
const foundBy = new Map<number, SheetFound | null>();
let isRunning = false;

/** Keeps every photo's paper and every line's curve read while the desk is open. Returns what stops it. */
export function startReading(): () => void {
  const stop = photoDesk.store.subscribe(() => void pump());
  void pump();
  return stop;
}

/** Looks for the marks of a photo once more. */
export async function findAgain(photoId: number): Promise<void> {
  foundBy.delete(photoId);
  photoDesk.change((work) => changePhoto(work, photoId, (it) => ({ ...it, found: null, byHand: {} })));
  await pump();
}

/** Draws a point that was just clicked to the pen line near it; part of the same step of undo. */
export async function drawToPen(photoId: number, lineId: number, at: Px, reachPx: number): Promise<void> {
  const answer = await asked(photoId, (service) => service.findPen(photoId, at, reachPx));
  if (!answer.ok) return;
  photoDesk.amend((work) =>
    changeLine(work, lineId, (line) =>
      line.points.includes(at) ? { ...line, points: line.points.map((p) => (p === at ? answer.value : p)) } : line,
    ),
  );
}

/** One thing at a time, the latest state first: what was overtaken meanwhile is never asked. */
async function pump(): Promise<void> {
  if (isRunning) return;
  isRunning = true;
  try {
    for (let next = nextTask(photoDesk.now); next !== null; next = nextTask(photoDesk.now)) await next();
  } finally {
    isRunning = false;
  }
}

type Task = () => Promise<void>;

function nextTask(work: PhotoWork): Task | null {
  refill(work);
  const photos = [...work.photos].sort((a, b) => Number(b.id === work.photoId) - Number(a.id === work.photoId));
  for (const photo of photos) {
    if (bitmapOf(photo.id) === null) continue;
    if (photo.way === 'sheet' && !foundBy.has(photo.id)) return () => findMarks(photo);
    const paper = answerStore.getState().papers[photo.id];
    if (paper === undefined || !samePlane(paper.asked, photo)) return () => readPaper(photo);
    for (const line of [...photo.lines].sort((a, b) => Number(b.id === work.lineId) - Number(a.id === work.lineId))) {
      const task = lineTask(work, photo, line);
      if (task !== null) return task;
    }
  }
  return null;
}

/** Marks that are known already, for states from before they were found. */
function refill(work: PhotoWork): void {
  for (const { id, found } of work.photos) {
    const known = foundBy.get(id);
    if (known === undefined || known === null || found === known) continue;
    photoDesk.amend((now) => changePhoto(now, id, (it) => withFound(it, known)));
  }
}

const withFound = (photo: Photo, found: SheetFound): Photo => ({
  ...photo,
  found,
  sheet: { paper: found.paper, tiles: found.tiles },
});

async function findMarks(photo: Photo): Promise<void> {
  answerStore.setState(({ searching }) => ({ searching: [...searching, photo.id] }));
  const answer = await asked(photo.id, (service) => service.findMarks(photo.id));
  const found = answer.ok ? answer.value.found : null;
  foundBy.set(photo.id, found);
  answerStore.setState(({ searching, reasons }) => ({
    searching: searching.filter((id) => id !== photo.id),
    reasons: { ...reasons, [photo.id]: answer.ok ? answer.value.reason : null },
  }));
  refill(photoDesk.now);
}

async function readPaper(photo: Photo): Promise<void> {
  const request = planeRequest(photo);
  const answer = request.ok ? await asked(photo.id, (service) => service.readPaper(request.value)) : request;
  const next = answer.ok
    ? { asked: photo, value: answer.value, refused: null }
    : { asked: photo, value: null, refused: answer.error };
  answerStore.setState(({ papers }) => ({ papers: { ...papers, [photo.id]: next } }));
}

const LEAST_POINTS = 2;

function lineTask(work: PhotoWork, photo: Photo, line: Line): Task | null {
  if (line.points.length < LEAST_POINTS || line.partOf !== null) return null;
  const parts = partsOf(work, line.id).filter((part) => part.line.points.length >= LEAST_POINTS);
  const now: AskedLine = { photo, line, parts };
  const answer = answerStore.getState().lines[line.id];
  return answer !== undefined && isSameAsked(answer.asked, now) ? null : () => readLine(now);
}

async function readLine(now: AskedLine): Promise<void> {
  const { photo, line, parts } = now;
  const answer = await curveOf(now);
  const value = answer.ok ? answer.value : null;
  const refused = answer.ok ? null : answer.error;
  const all = [{ photo, line }, ...parts];
  const entries = all.map((one, i) => [
    one.line.id,
    { asked: { ...now, line: one.line, photo: one.photo }, value, refused, path: value?.paths[i] ?? [] },
  ]);
  answerStore.setState(({ lines }) => ({ lines: { ...lines, ...Object.fromEntries(entries) } }));
}

async function curveOf({ photo, line, parts }: AskedLine) {
  const pieces: LineRequest['pieces'][number][] = [];
  for (const one of [{ photo, line }, ...parts]) {
    const plane = planeRequest(one.photo);
    if (!plane.ok) return plane;
    const { points, isSnapped } = one.line;
    pieces.push({ photoId: one.photo.id, plane: plane.value, points, isSnapped });
  }
  const request: LineRequest = { pieces, line, stationMm: stationMm(line), heightMm: heightMm(line) };
  return asked(
    pieces.map(({ photoId }) => photoId),
    (service) => service.readLine(request),
  );
}

/** A fault of the worker must not stop the desk: it is said where the answer would stand. */
async function asked<T>(
  photoIds: number | readonly number[],
  call: Parameters<typeof askAbout<T>>[1],
): Promise<Asked<T>> {
  const ids = typeof photoIds === 'number' ? [photoIds] : photoIds;
  try {
    return await askAbout(ids, call);
  } catch (error) {
    if (error instanceof Interrupted) return asked(ids, call);
    return { ok: false, error: faultOf(error) };
  }
}

const faultOf = (error: unknown): InputErrorDetails => ({
  code: 'unsupported',
  got: error instanceof Error ? error.message : String(error),
  ...PHOTO_READING_TEXTS.fault,
});
