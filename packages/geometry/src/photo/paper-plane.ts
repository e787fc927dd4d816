import { SHEET_CORNERS, type SheetPaper, type SheetPoint, type SheetTile } from '../drawing/index.ts';
import { InputError } from '../numeric/index.ts';
import type { PixelPoint } from './grey-image.ts';
import { type Homography, homographyFromPoints } from './homography-from-points.ts';
import { determinant3 } from './matrix3.ts';

/** A photo's way to the paper and what is known of its errors. */
export interface PaperPlane extends Homography {
  readonly from: 'marks' | 'clicked sheet' | 'rectangle';
  /** The taped sheets whose frame it leads to; null for a rectangle, whose middle is the origin. */
  readonly sheets: { readonly paper: SheetPaper; readonly tiles: number } | null;
  /** Standard deviation of a corner in the photo, px, each way. */
  readonly cornerPx: number;
  /** How far printed discs lie from where a photo without bent lines would show them, mm; null where none was seen. */
  readonly straightnessMm: number | null;
  readonly warnings: readonly string[];
}

/** A corner clicked by hand on a screen: a pixel each way. Our own rule. */
export const CLICK_PX = 1;

export type FourCorners = readonly [PixelPoint, PixelPoint, PixelPoint, PixelPoint];

/**
 * Plane of one of our sheets from its four marks clicked by hand: the outermost corner of each, in the order top left,
 * top right, bottom right, bottom left of the sheet (not of the photo).
 * @throws InputError as homographyFromPoints; 'inconsistent' for a mirrored photo or corners the other way round
 */
export function paperFromSheet(cornersPx: FourCorners, tile: SheetTile): PaperPlane {
  // The outermost corner of the first mark is its first one, of the second its second, and so on.
  const paper = SHEET_CORNERS.map((_, i) => tile.marks[i]!.cornersMm[i]!);
  const plane = homographyFromPoints(cornersPx, paper);
  refuseMirrored(plane);
  return {
    ...plane,
    from: 'clicked sheet',
    sheets: { paper: tile.paper, tiles: tile.tiles },
    cornerPx: CLICK_PX,
    straightnessMm: null,
    warnings: [NOT_MODELLED],
  };
}

/**
 * Plane of a known rectangle (a card, a board) from its corners top left, top right, bottom right, bottom left. Origin in
 * its middle, right and up along its sides.
 * @throws InputError as paperFromSheet; 'out-of-range' for sides that are no lengths
 */
export function paperFromRectangle(cornersPx: FourCorners, widthMm: number, heightMm: number): PaperPlane {
  for (const [field, value] of [
    ['widthMm', widthMm],
    ['heightMm', heightMm],
  ] as const) {
    if (value >= 10 && value <= 5000) continue;
    throw new InputError({
      code: 'out-of-range',
      field,
      got: String(value),
      expected: 'a side of 10 to 5000 mm',
      remedy: 'Measure the sides of the rectangle',
    });
  }
  const [w, h] = [widthMm / 2, heightMm / 2];
  const paper: SheetPoint[] = [
    [-w, h],
    [w, h],
    [w, -h],
    [-w, -h],
  ];
  const plane = homographyFromPoints(cornersPx, paper);
  refuseMirrored(plane);
  return {
    ...plane,
    from: 'rectangle',
    sheets: null,
    cornerPx: CLICK_PX,
    straightnessMm: null,
    warnings: [NOT_MODELLED],
  };
}

export const NOT_MODELLED =
  'Bent lines of the lens are not corrected, and four corners alone cannot show them: photograph from 1 m or more, not wide-angle.';

/** Rows run down in a photo and up on the paper: a true picture turns the other way round. */
export function refuseMirrored(plane: Homography): void {
  if (determinant3(plane.imageToPaper) * Math.sign(weightAt(plane)) < 0) return;
  throw new InputError({
    code: 'inconsistent',
    field: 'corners',
    got: 'corners that run the other way round',
    expected: 'top left, top right, bottom right, bottom left, and a photo that is not mirrored',
    remedy: 'Click the corners in this order; turn off mirroring of the camera',
  });
}

/** Sign of the scale that the stored matrix has at the paper's origin. */
const weightAt = ({ paperToImage, imageToPaper }: Homography): number => {
  const h = paperToImage;
  const [x, y, w] = [h[2]!, h[5]!, h[8]!];
  return imageToPaper[6]! * (x / w) + imageToPaper[7]! * (y / w) + imageToPaper[8]!;
};
