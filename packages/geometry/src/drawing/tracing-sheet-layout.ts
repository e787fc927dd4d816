import { InputError, showGot } from '../numeric/index.ts';
import {
  MARK_CELLS,
  MOST_TILES,
  SHEET_CORNERS,
  SHEET_MARK_CODES,
  SHEET_PAPERS,
  type SheetCorner,
  type SheetPaper,
} from './tracing-sheet-codes.ts';

/** [right, up] in mm. On a sheet: from where the midline crosses the level line, to the horse's right and up. */
export type SheetPoint = readonly [number, number];

export interface SheetMark {
  readonly corner: SheetCorner;
  /** 5 x 5 cells, see SHEET_MARK_CODES. */
  readonly code: number;
  /** Outer corners of the black frame: top left, top right, bottom right, bottom left. */
  readonly cornersMm: readonly [SheetPoint, SheetPoint, SheetPoint, SheetPoint];
}

/** A filled disc half-way between two corner marks: straightness of the photo is judged by it. */
export interface SheetDisc {
  readonly edge: 'top' | 'right' | 'bottom' | 'left';
  readonly centreMm: SheetPoint;
  readonly radiusMm: number;
}

/** One sheet of paper as it is printed: all numbers that the reader of a photo needs. */
export interface SheetTile {
  readonly paper: SheetPaper;
  readonly tiles: number;
  /** From the left, 1-based. */
  readonly tile: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Left top corner of the paper in the frame of the taped sheets. */
  readonly leftTopMm: SheetPoint;
  /** In the order of SHEET_CORNERS. */
  readonly marks: readonly SheetMark[];
  readonly discs: readonly SheetDisc[];
  /** Printed distances between the outer edges of the marks. */
  readonly acrossMm: number;
  readonly downMm: number;
}

export const SHEET_SIZES_MM: Readonly<Record<SheetPaper, { readonly widthMm: number; readonly heightMm: number }>> =
  Object.freeze({
    a4: Object.freeze({ widthMm: 210, heightMm: 297 }),
    letter: Object.freeze({ widthMm: 215.9, heightMm: 279.4 }),
  });

/** Distances on every sheet, mm from the paper's edges. Printed sheets depend on them. */
export const SHEET_LAYOUT = Object.freeze({
  /** The sheet to the right is cut along this line and laid on the same line of its left neighbour. */
  tapeMm: 10,
  markInsetMm: 14,
  markMm: 22.5,
  discRadiusMm: 2.5,
  /** Level line, from the upper edge. */
  levelMm: 46,
});

/** Width of the taped sheets, mm. */
export const sheetsWidthMm = (paper: SheetPaper, tiles: number): number =>
  tiles * (SHEET_SIZES_MM[paper].widthMm - 2 * SHEET_LAYOUT.tapeMm) + 2 * SHEET_LAYOUT.tapeMm;

/**
 * Geometry of sheet `tile` of `tiles`, in the frame of all of them taped side by side.
 * @throws InputError 'out-of-range' or 'unknown-name'
 */
export function sheetTile(paper: SheetPaper, tiles: number, tile: number): SheetTile {
  if (!SHEET_PAPERS.includes(paper)) {
    throw new InputError({
      code: 'unknown-name',
      field: 'paper',
      got: showGot(paper),
      expected: SHEET_PAPERS.join(' or '),
      remedy: 'Choose the paper that is in the printer',
    });
  }
  checkCount('tiles', tiles, MOST_TILES);
  checkCount('tile', tile, tiles);
  const { widthMm, heightMm } = SHEET_SIZES_MM[paper];
  const { tapeMm, markInsetMm: inset, markMm, discRadiusMm, levelMm } = SHEET_LAYOUT;
  const leftMm = (tile - 1) * (widthMm - 2 * tapeMm) - sheetsWidthMm(paper, tiles) / 2;
  const at = (x: number, y: number): SheetPoint => [leftMm + x, levelMm - y];
  const [right, bottom] = [widthMm - inset - markMm, heightMm - inset - markMm];
  const places: readonly (readonly [number, number])[] = [
    [inset, inset],
    [right, inset],
    [right, bottom],
    [inset, bottom],
  ];
  const marks = SHEET_CORNERS.map((corner, i): SheetMark => {
    const [x, y] = places[i]!;
    const known = SHEET_MARK_CODES.find(
      (m) => m.paper === paper && m.tiles === tiles && m.tile === tile && m.corner === corner,
    )!;
    return {
      corner,
      code: known.code,
      cornersMm: [at(x, y), at(x + markMm, y), at(x + markMm, y + markMm), at(x, y + markMm)],
    };
  });
  const half = inset + markMm / 2;
  const disc = (edge: SheetDisc['edge'], x: number, y: number): SheetDisc => ({
    edge,
    centreMm: at(x, y),
    radiusMm: discRadiusMm,
  });
  return {
    ...{ paper, tiles, tile, widthMm, heightMm },
    leftTopMm: at(0, 0),
    marks,
    discs: [
      disc('top', widthMm / 2, half),
      disc('right', widthMm - half, heightMm / 2),
      disc('bottom', widthMm / 2, heightMm - half),
      disc('left', half, heightMm / 2),
    ],
    acrossMm: widthMm - 2 * inset,
    downMm: heightMm - 2 * inset,
  };
}

/** Side of one cell of a mark, mm. */
export const SHEET_CELL_MM = SHEET_LAYOUT.markMm / MARK_CELLS;

function checkCount(field: string, value: number, most: number): void {
  if (Number.isInteger(value) && value >= 1 && value <= most) return;
  throw new InputError({
    code: 'out-of-range',
    field,
    got: showGot(value),
    expected: `a whole number from 1 to ${most}`,
    remedy: 'A section of 500 mm needs three sheets of A4 side by side',
  });
}
