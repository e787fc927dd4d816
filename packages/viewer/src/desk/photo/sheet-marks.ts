import { SHEET_CORNERS, type SheetCorner } from '@barwright/geometry';
import { PHOTO_READING_TEXTS } from '../../look/texts/photo-reading.ts';
import type { Photo, Px } from './photo-work.ts';

/** As the marks are named in warnings about a photo. */
export const markName = (tile: number, corner: SheetCorner): string => PHOTO_READING_TEXTS.mark(corner, tile);

/** "top left", or "sheet 2 top left" where several are taped. */
export const markCaption = ({ tile, corner }: NamedMark, tiles: number): string =>
  tiles === 1 ? corner : `${tile} ${corner}`;

export interface NamedMark {
  readonly name: string;
  readonly tile: number;
  readonly corner: SheetCorner;
  /** Place in SHEET_CORNERS, and of the mark's outermost corner among its four. */
  readonly index: number;
}

export const allMarks = (tiles: number): NamedMark[] =>
  Array.from({ length: tiles }, (_, i) => i + 1).flatMap((tile) =>
    SHEET_CORNERS.map((corner, index) => ({ name: markName(tile, corner), tile, corner, index })),
  );

/** Outermost corners of the marks in place, found or put by hand, by name. */
export function marksOf(photo: Photo): Readonly<Record<string, Px>> {
  return { ...photo.found?.marks, ...photo.byHand };
}

/** Marks that the sheets in sight should have and that nobody has put in place yet. */
export function missingMarks(photo: Photo): string[] {
  const there = marksOf(photo);
  const seen = new Set(
    allMarks(photo.sheet.tiles)
      .filter(({ name }) => name in there)
      .map(({ tile }) => tile),
  );
  return allMarks(photo.sheet.tiles)
    .filter(({ name, tile }) => !(name in there) && (seen.size === 0 || seen.has(tile)))
    .map(({ name }) => name);
}
