import {
  CLICK_PX,
  type FourCorners,
  homographyFromPoints,
  InputError,
  type PaperPlane,
  type PixelPoint,
  paperFromLength,
  paperFromRectangle,
  paperFromSheet,
  type SheetPoint,
  sheetTile,
} from '@barwright/geometry';
import { PHOTO_READING_TEXTS } from '../../look/texts/photo-reading.ts';
import type { SheetFound } from './photo-service.ts';
import type { Px, SheetChoice } from './photo-work.ts';
import { allMarks, type NamedMark } from './sheet-marks.ts';

const T = PHOTO_READING_TEXTS;

/** What a photo's plane is read from. */
export type PlaneRequest =
  | {
      readonly way: 'sheet';
      readonly sheet: SheetChoice;
      readonly found: SheetFound | null;
      readonly byHand: Readonly<Record<string, Px>>;
    }
  | {
      readonly way: 'rectangle';
      readonly corners: readonly Px[];
      readonly widthMm: number;
      readonly heightMm: number;
    }
  | { readonly way: 'length'; readonly lengthMm: number };

/** @throws InputError where four places of the paper aren't known, or contradict each other */
export function planeFor(request: PlaneRequest): PaperPlane {
  if (request.way === 'rectangle')
    return paperFromRectangle(request.corners as FourCorners, request.widthMm, request.heightMm);
  if (request.way === 'length') return refusedLength(request.lengthMm);
  const { found, byHand } = request;
  if (found?.plane && Object.keys(byHand).length === 0) return found.plane;
  return planeOfMarks(request);
}

function refusedLength(lengthMm: number): never {
  try {
    return paperFromLength(lengthMm);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError({ ...error.details, remedy: T.oneLength });
  }
}

/** Found marks by all four of their corners, those put by hand by their outermost one. */
function planeOfMarks({ sheet, found, byHand }: Extract<PlaneRequest, { way: 'sheet' }>): PaperPlane {
  const all = allMarks(sheet.tiles);
  const clicked = all.filter(({ name }) => name in byHand);
  const seen = all.filter(({ name }) => !(name in byHand) && found !== null && name in found.corners);
  const tile = wholeTile(clicked, sheet.tiles);
  if (seen.length === 0 && clicked.length === 4 && tile !== null) {
    const corners = clicked.map(({ name }) => byHand[name]!) as unknown as FourCorners;
    return paperFromSheet(corners, sheetTile(sheet.paper, sheet.tiles, tile));
  }
  const image: PixelPoint[] = [];
  const paper: SheetPoint[] = [];
  for (const mark of seen) {
    image.push(...found!.corners[mark.name]!);
    paper.push(...cornersMm(sheet, mark));
  }
  for (const mark of clicked) {
    image.push(byHand[mark.name]!);
    paper.push(cornersMm(sheet, mark)[mark.index]!);
  }
  if (seen.length + clicked.length < 3 || image.length < 4) throw tooFew(seen.length + clicked.length);
  const plane = homographyFromPoints(image, paper);
  return {
    ...plane,
    from: 'clicked sheet',
    sheets: { paper: sheet.paper, tiles: sheet.tiles },
    cornerPx: clicked.length > 0 ? CLICK_PX : 0.3,
    straightnessMm: null,
    warnings: clicked.length === 0 ? [] : [T.byHand(clicked.length)],
  };
}

const cornersMm = ({ paper, tiles }: SheetChoice, { tile, corner }: NamedMark): readonly SheetPoint[] =>
  sheetTile(paper, tiles, tile).marks.find((mark) => mark.corner === corner)!.cornersMm;

function wholeTile(marks: readonly NamedMark[], tiles: number): number | null {
  const [first] = marks;
  if (first === undefined || tiles < 1) return null;
  return marks.every(({ tile }) => tile === first.tile) ? first.tile : null;
}

function tooFew(count: number): InputError {
  return new InputError({
    code: 'missing',
    field: 'marks',
    got: T.tooFewMarks.got(count),
    expected: T.tooFewMarks.expected,
    remedy: T.tooFewMarks.remedy,
  });
}
