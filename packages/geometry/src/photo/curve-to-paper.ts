import type { SheetPoint } from '../drawing/index.ts';
import { InputError } from '../numeric/index.ts';
import type { PixelPoint } from './grey-image.ts';
import type { Homography } from './homography-from-points.ts';
import { through } from './matrix3.ts';

/**
 * Places on the paper, mm [right, up], of points in the photo.
 * @throws InputError 'out-of-range' for a point at or beyond the horizon of the paper's plane
 */
export function curveToPaper(pointsPx: readonly PixelPoint[], plane: Homography): SheetPoint[] {
  const h = plane.paperToImage;
  return pointsPx.map((p) => {
    const paper = through(plane.imageToPaper, p);
    const w = h[6]! * paper[0] + h[7]! * paper[1] + h[8]!;
    if (Number.isFinite(paper[0]) && Number.isFinite(paper[1]) && w * h[8]! > 0) return paper;
    throw new InputError({
      code: 'out-of-range',
      field: 'points',
      got: `a point at ${p[0].toFixed(0)}, ${p[1].toFixed(0)}`,
      expected: 'points on the paper',
      remedy: 'Move this point onto the traced line',
    });
  });
}
