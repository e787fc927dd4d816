import type { SheetPaper } from '@barwright/geometry';
import { PHOTO_LINE_TEXTS } from '../../look/texts/photo-line.ts';
import type { SheetFound } from './photo-service.ts';

/** A place in a photo: pixels to the right and down from its top left corner; or mm to the right and up on paper. */
export type Px = readonly [number, number];

/** How the photo comes by its millimetres. */
export type Way = 'sheet' | 'rectangle' | 'length';

export interface SheetChoice {
  readonly paper: SheetPaper;
  readonly tiles: number;
}

export interface Rectangle {
  /** As typed; the side between the first and second corner, and the one between the second and third. */
  readonly width: string;
  readonly height: string;
}

/** One traced line in a photo. Fields as typed. */
export interface Line {
  readonly id: number;
  readonly name: string;
  readonly points: readonly Px[];
  readonly isSnapped: boolean;
  /** Ends of a level line drawn on the paper, the left one first; null: the sheet's own. */
  readonly level: readonly [Px, Px] | null;
  /** Where the line crosses the midline of the horse; along the horse, the place that the station names. null: the sheet's middle. */
  readonly zero: Px | null;
  readonly kind: 'cross' | 'lengthwise';
  /** Of numbers without one in this line's fields; stays when the page's units change. */
  readonly unit: 'mm' | 'in';
  readonly station: string;
  readonly side: 'both' | 'left' | 'right';
  /** What lies to the right on the paper: the horse's right (seen from behind) or left; along the horse, its tail or head. */
  readonly toRight: 'right' | 'left' | 'tail' | 'head';
  /** The line that this one is a further stretch of, traced over several sheets and photographed in parts; null: its own. */
  readonly partOf: number | null;
  /** Height of the level line above one that all lines share, mm. */
  readonly height: string;
}

export interface Photo {
  readonly id: number;
  readonly name: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly fullWidthPx: number;
  readonly fullHeightPx: number;
  readonly way: Way;
  /** The sheets in the photo: as found, or as chosen by a person. */
  readonly sheet: SheetChoice;
  /** What was found in the photo by itself; null before it was looked at, and when nothing was found. */
  readonly found: SheetFound | null;
  /** Outermost corners of the sheet's marks that a person put or moved, by name (markName). */
  readonly byHand: Readonly<Record<string, Px>>;
  readonly corners: readonly Px[];
  readonly rectangle: Rectangle;
  /** One known length, which is not enough: kept so that the refusal can say why. */
  readonly knownLength: string;
  readonly lines: readonly Line[];
}

/** All that is on the photo desk. */
export interface PhotoWork {
  readonly photos: readonly Photo[];
  readonly photoId: number | null;
  readonly lineId: number | null;
}

export const NOTHING_YET: PhotoWork = { photos: [], photoId: null, lineId: null };

export const photoOf = (work: PhotoWork): Photo | null => work.photos.find(({ id }) => id === work.photoId) ?? null;

export const lineOf = (work: PhotoWork): Line | null =>
  photoOf(work)?.lines.find(({ id }) => id === work.lineId) ?? null;

export interface NewPhoto {
  readonly name: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly fullWidthPx: number;
  readonly fullHeightPx: number;
}

/** Never used before, also not by what was undone: pixels and answers are kept by these numbers. */
export interface NewIds {
  readonly photo: number;
  readonly line: number;
}

/** Puts a photo on the desk, with a first line waiting for points; turned to only where nothing is looked at yet. */
export function withPhoto(work: PhotoWork, photo: NewPhoto, ids: NewIds, unit: Line['unit']): PhotoWork {
  const line = newLine(ids.line, work, null, unit);
  const corners = cornersOf(photo);
  const placed: Photo = {
    ...photo,
    id: ids.photo,
    way: photoOf(work)?.way ?? 'sheet',
    sheet: photoOf(work)?.sheet ?? { paper: 'a4', tiles: 1 },
    found: null,
    byHand: {},
    corners,
    rectangle: photoOf(work)?.rectangle ?? { width: '210', height: '297' },
    knownLength: '',
    lines: [line],
  };
  const photos = [...work.photos, placed];
  return photoOf(work) === null ? { photos, photoId: ids.photo, lineId: line.id } : { ...work, photos };
}

/** Where corners wait to be dragged: a fifth in from each side, clockwise from the top left. */
const cornersOf = ({ widthPx: w, heightPx: h }: NewPhoto): Px[] => [
  [0.2 * w, 0.2 * h],
  [0.8 * w, 0.2 * h],
  [0.8 * w, 0.8 * h],
  [0.2 * w, 0.8 * h],
];

function newLine(id: number, work: PhotoWork, like: Line | null, unit: Line['unit']): Line {
  const before = like ?? work.photos.at(-1)?.lines.at(-1) ?? null;
  const count = work.photos.reduce((sum, { lines }) => sum + lines.length, 0);
  return {
    id,
    name: PHOTO_LINE_TEXTS.line.newName(count + 1),
    points: [],
    isSnapped: before?.isSnapped ?? true,
    level: null,
    zero: null,
    partOf: null,
    kind: 'cross',
    unit,
    station: '',
    side: before?.kind === 'cross' ? before.side : 'both',
    toRight: before?.kind === 'cross' ? before.toRight : 'right',
    height: before?.unit === unit ? before.height : '0',
  };
}

export const changePhoto = (work: PhotoWork, id: number, edit: (photo: Photo) => Photo): PhotoWork => ({
  ...work,
  photos: work.photos.map((photo) => (photo.id === id ? edit(photo) : photo)),
});

export function changeLine(work: PhotoWork, id: number, edit: (line: Line) => Line): PhotoWork {
  const photo = work.photos.find(({ lines }) => lines.some((line) => line.id === id));
  if (photo === undefined) return work;
  return changePhoto(work, photo.id, (it) => ({
    ...it,
    lines: it.lines.map((line) => (line.id === id ? edit(line) : line)),
  }));
}

/** A further line in the photo at hand. */
export function withLine(work: PhotoWork, id: number, unit: Line['unit']): PhotoWork {
  const photo = photoOf(work);
  if (photo === null) return work;
  const line = newLine(id, work, photo.lines.at(-1) ?? null, unit);
  const next = changePhoto(work, photo.id, (it) => ({ ...it, lines: [...it.lines, line] }));
  return { ...next, lineId: line.id };
}

/** Further stretches of a line, in other photos. */
export const partsOf = (work: PhotoWork, lineId: number): readonly { photo: Photo; line: Line }[] =>
  work.photos.flatMap((photo) =>
    photo.lines.filter(({ partOf }) => partOf === lineId).map((line) => ({ photo, line })),
  );

/** Without a line; its photo keeps an empty one to go on with. */
export function withoutLine(work: PhotoWork, id: number, emptyId: number, unit: Line['unit']): PhotoWork {
  const photo = work.photos.find(({ lines }) => lines.some((line) => line.id === id));
  if (photo === undefined) return work;
  const left = photo.lines.filter((line) => line.id !== id);
  const next = onItsOwn(changePhoto(work, photo.id, (it) => ({ ...it, lines: left })));
  const turned = { ...next, photoId: photo.id, lineId: left.at(-1)?.id ?? null };
  return left.length > 0 ? turned : withLine(turned, emptyId, unit);
}

export function withoutPhoto(work: PhotoWork, id: number): PhotoWork {
  const photos = work.photos.filter((photo) => photo.id !== id);
  const last = photos.at(-1) ?? null;
  return onItsOwn({ photos, photoId: last?.id ?? null, lineId: last?.lines.at(-1)?.id ?? null });
}

/** Stretches of a line that is no longer there stand on their own. */
function onItsOwn(work: PhotoWork): PhotoWork {
  const ids = new Set(work.photos.flatMap(({ lines }) => lines.map(({ id }) => id)));
  const isLost = ({ partOf }: Line): boolean => partOf !== null && !ids.has(partOf);
  const photos = work.photos.map((photo) =>
    photo.lines.some(isLost)
      ? { ...photo, lines: photo.lines.map((line) => (isLost(line) ? { ...line, partOf: null } : line)) }
      : photo,
  );
  return { ...work, photos };
}

export const turnTo = (work: PhotoWork, photoId: number, lineId?: number): PhotoWork => ({
  ...work,
  photoId,
  lineId: lineId ?? work.photos.find(({ id }) => id === photoId)?.lines.at(-1)?.id ?? null,
});

/**
 * A point put into a line: between two neighbours where the click lies on their stretch (within `reachPx`), else beyond
 * the nearer end. Answers the points and the index of the new one.
 */
export function withPoint(points: readonly Px[], at: Px, reachPx: number): { points: readonly Px[]; index: number } {
  const onStretch = nearestStretch(points, at);
  const index =
    onStretch !== null && onStretch.distance <= reachPx
      ? onStretch.after + 1
      : nearerToStart(points, at)
        ? 0
        : points.length;
  return { points: [...points.slice(0, index), at, ...points.slice(index)], index };
}

function nearerToStart(points: readonly Px[], at: Px): boolean {
  if (points.length < 2) return false;
  return distance(at, points[0]!) < distance(at, points[points.length - 1]!);
}

function nearestStretch(points: readonly Px[], at: Px): { after: number; distance: number } | null {
  let best: { after: number; distance: number } | null = null;
  for (let i = 0; i + 1 < points.length; i++) {
    const far = distanceToStretch(at, points[i]!, points[i + 1]!);
    if (best === null || far < best.distance) best = { after: i, distance: far };
  }
  return best;
}

function distanceToStretch(at: Px, a: Px, b: Px): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const share = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / (dx * dx + dy * dy || 1);
  const t = Math.min(1, Math.max(0, share));
  return distance(at, [a[0] + t * dx, a[1] + t * dy]);
}

const distance = (a: Px, b: Px): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
