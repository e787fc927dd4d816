import {
  curveToPaper,
  findSheetMarks,
  type GreyImage,
  greyFromRgba,
  InputError,
  type PaperPlane,
  paperUncertainty,
  type SheetPaper,
  type SheetSearch,
  snapToLine,
  tracingFromPhoto,
} from '@barwright/geometry';
import { PHOTO_READING_TEXTS } from '../../look/texts/photo-reading.ts';
import { curveOnHorse, lengthOf } from './curve-on-horse.ts';
import { nearestPen } from './nearest-pen.ts';
import type { LineRead, PaperRead } from './photo-answers.ts';
import type { Line, Px } from './photo-work.ts';
import { type PlaneRequest, planeFor } from './plane-for.ts';
import { markName } from './sheet-marks.ts';

const T = PHOTO_READING_TEXTS;

/** What was found in a photo by itself, in the terms of the desk. */
export interface SheetFound {
  readonly says: string;
  readonly paper: SheetPaper;
  readonly tiles: number;
  /** Outermost corner of each mark, by name. */
  readonly marks: Readonly<Record<string, Px>>;
  /** All four corners of each mark, by name. */
  readonly corners: Readonly<Record<string, readonly Px[]>>;
  readonly plane: PaperPlane | null;
}

export interface PieceRequest {
  readonly photoId: number;
  readonly plane: PlaneRequest;
  readonly points: readonly Px[];
  readonly isSnapped: boolean;
}

export interface LineRequest {
  readonly pieces: readonly PieceRequest[];
  readonly line: Line;
  readonly stationMm: number | null;
  readonly heightMm: number;
}

const held = new Map<number, { light: GreyImage; ink: GreyImage }>();
/** Photos held at once; the page gives one again when it is asked about. */
const MOST_HELD = 6;

export const photoService = {
  holdsPhoto: (photoId: number): boolean => held.has(photoId),

  /** Takes over a photo's pixels (red, green, blue, alpha) as grey pictures. */
  holdPhoto(photoId: number, rgba: Uint8ClampedArray, width: number, height: number): void {
    while (held.size >= MOST_HELD) held.delete(held.keys().next().value!);
    held.set(photoId, greyFromRgba(rgba, width, height));
  },

  /** Marks of our sheet in a photo; the reason in words where nothing can be read from it. */
  findMarks(photoId: number): { found: SheetFound | null; reason: string | null } {
    const search = findSheetMarks(photoOf(photoId).light);
    return { found: search.marks.length === 0 ? null : foundOf(search), reason: search.reason };
  },

  /** Where the pen line is near a click. */
  findPen: (photoId: number, at: Px, reachPx: number): Px => nearestPen(photoOf(photoId).ink, at, reachPx),

  /** Where the paper lies in a photo. @throws InputError where that can't be told */
  readPaper(request: PlaneRequest): PaperRead {
    const plane = planeFor(request);
    return {
      residualMm: plane.residualsMm.length > 4 ? Math.max(...plane.residualsMm) : null,
      bendMm: plane.straightnessMm,
      levelPx: plane.sheets === null ? null : levelIn(plane),
      warnings: plane.warnings,
    };
  },

  /** A line followed along the pen, in millimetres, as a curve of a tracings document. */
  readLine(request: LineRequest): LineRead {
    const pieces = request.pieces.map((piece) => {
      const plane = planeFor(piece.plane);
      return { plane, ...followed(piece, plane) };
    });
    const { line } = request;
    const first = pieces[0]!;
    const tracing = tracingFromPhoto(
      pieces.map(({ plane, pointsPx }) => ({ plane, pointsPx })),
      {
        id: line.name.trim().slice(0, 80) || 'line',
        kind: line.kind,
        stationMm: request.stationMm,
        ...(line.kind === 'cross' ? { side: line.side } : {}),
        ...(line.level === null ? {} : { level: levelMark(line.level, first.plane) }),
        ...(line.zero === null ? {} : { midline: { piece: 0, atPx: line.zero } }),
        linePx: request.pieces.every(({ isSnapped }) => isSnapped) ? 0.5 : 1,
      },
    );
    const curve = curveOnHorse(tracing, request, first.plane);
    const mm = curve.points.map((p): Px => [p[0]!, p[1]!]);
    return {
      paths: pieces.map(({ pointsPx }) => pointsPx),
      mm,
      levelAtMm: line.kind === 'lengthwise' || curve.level !== null ? request.heightMm : null,
      lengthMm: lengthOf(mm),
      uncertaintyMm: tracing.uncertaintyMm,
      warnings: [...pieces.flatMap(({ warning }) => (warning === null ? [] : [warning])), ...tracing.warnings],
      curve,
    };
  },
};

function photoOf(photoId: number): { light: GreyImage; ink: GreyImage } {
  const photo = held.get(photoId);
  if (photo !== undefined) return photo;
  throw new InputError({
    code: 'missing',
    field: 'photo',
    ...T.noPixels,
  });
}

function foundOf({ marks, sheet, reason }: SheetSearch): SheetFound {
  const { paper, tiles } = marks[0]!.identity;
  const ours = marks.filter(({ identity }) => identity.paper === paper && identity.tiles === tiles);
  const named = ours.map(({ identity, cornersPx }) => {
    const index = CORNER_INDEX[identity.corner];
    return { name: markName(identity.tile, identity.corner), outer: cornersPx[index], cornersPx };
  });
  const seen = [...new Set(ours.map(({ identity }) => identity.tile))].sort((a, b) => a - b);
  const sheets = T.sheets(T.papers[paper], seen, tiles);
  return {
    says: reason === null ? sheets : T.andReason(sheets, reason),
    paper,
    tiles,
    marks: Object.fromEntries(named.map(({ name, outer }) => [name, outer])),
    corners: Object.fromEntries(named.map(({ name, cornersPx }) => [name, cornersPx])),
    plane: sheet?.plane ?? null,
  };
}

const CORNER_INDEX = { 'top left': 0, 'top right': 1, 'bottom right': 2, 'bottom left': 3 } as const;

/** The printed level line as far as any sheet reaches, in the photo. */
function levelIn({ paperToImage: h, sheets }: PaperPlane): [Px, Px] {
  const half = sheets === null ? 100 : (sheets.tiles * 190) / 2;
  const at = (x: number): Px => {
    const w = h[6]! * x + h[8]!;
    return [(h[0]! * x + h[2]!) / w, (h[3]! * x + h[5]!) / w];
  };
  return [at(-half), at(half)];
}

/** A usual pen's line. Common practice, no source. */
const PEN_MM = 0.8;
const UNSEEN_SHARE = 0.03;

function followed(piece: PieceRequest, plane: PaperPlane): { pointsPx: readonly Px[]; warning: string | null } {
  const { points, isSnapped, photoId } = piece;
  if (!isSnapped) return { pointsPx: points, warning: null };
  const { pixelMm } = paperUncertainty(plane, points[Math.floor(points.length / 2)]!, plane.cornerPx);
  const penPx = Math.min(16, Math.max(3, PEN_MM / pixelMm));
  const { pointsPx, unseenShare } = snapped(photoId, points, penPx);
  const percent = Math.round(100 * unseenShare);
  const warning = unseenShare > UNSEEN_SHARE ? T.unseen(percent) : null;
  return { pointsPx, warning };
}

const snaps = new Map<string, ReturnType<typeof snapToLine>>();
const MOST_SNAPS = 60;

/** A change of a line's fields, or of another stretch, doesn't follow this one again. */
function snapped(photoId: number, points: readonly Px[], penPx: number): ReturnType<typeof snapToLine> {
  const key = JSON.stringify([photoId, penPx, points]);
  const before = snaps.get(key);
  if (before !== undefined) return before;
  const fresh = snapToLine(photoOf(photoId).ink, points, { penPx });
  if (snaps.size >= MOST_SNAPS) snaps.delete(snaps.keys().next().value!);
  snaps.set(key, fresh);
  return fresh;
}

/** A drawn level mark from left to right on the paper, whichever end was put first. */
function levelMark([a, b]: readonly [Px, Px], plane: PaperPlane): { piece: number; fromPx: Px; toPx: Px } {
  const [left, right] = curveToPaper([a, b], plane);
  return left![0] <= right![0] ? { piece: 0, fromPx: a, toPx: b } : { piece: 0, fromPx: b, toPx: a };
}
