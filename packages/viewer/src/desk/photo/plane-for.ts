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
import type { SheetFound } from './photo-service.ts';
import type { Px, SheetChoice } from './photo-work.ts';
import { allMarks, type NamedMark } from './sheet-marks.ts';

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
    const remedy =
      'Trace on a printed sheet, or lay a rectangle of known sides on the same table and use its four corners';
    throw new InputError({ ...error.details, remedy });
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
  const warning = `${clicked.length} ${clicked.length === 1 ? 'mark was' : 'marks were'} put by hand: bent lines of the lens are not looked for.`;
  return {
    ...plane,
    from: 'clicked sheet',
    sheets: { paper: sheet.paper, tiles: sheet.tiles },
    cornerPx: clicked.length > 0 ? CLICK_PX : 0.3,
    straightnessMm: null,
    warnings: clicked.length === 0 ? [] : [warning],
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
    got: count === 0 ? 'no mark of the sheet' : `${count} ${count === 1 ? 'mark' : 'marks'}`,
    expected: 'three marks or more, whole and in place, or all four corners of one sheet put by hand',
    remedy: 'Put the missing marks by hand, or use the four corners of a rectangle of known size',
  });
}
