import type { SheetPoint } from '../drawing/index.ts';
import type { PixelPoint } from './grey-image.ts';
import type { Homography } from './homography-from-points.ts';
import { slopeThrough, through } from './matrix3.ts';

/** What a place on the paper is uncertain by, mm. */
export interface PaperUncertainty {
  /** One standard deviation in the worst direction, from corners that are wrong by cornerPx. */
  readonly cornersMm: number;
  /** Size of a pixel on the paper in its longer direction. */
  readonly pixelMm: number;
}

/**
 * Error of a place on the paper that comes from errors of the corners, first order: the covariance of the map carried to
 * the place (Hartley & Zisserman, Multiple View Geometry, chapter 5, from memory).
 * @param cornerPx standard deviation of a corner's place in the photo, each way, px
 */
export function paperUncertainty(plane: Homography, pointPx: PixelPoint, cornerPx: number): PaperUncertainty {
  const paper: SheetPoint = through(plane.imageToPaper, pointPx);
  const h = plane.paperToImage;
  const w = h[6]! * paper[0] + h[7]! * paper[1] + h[8]!;
  const [u, v] = pointPx;
  const base = [paper[0] / w, paper[1] / w, 1 / w];
  const rowU = [...base, 0, 0, 0, ...base.map((value) => -u * value)];
  const rowV = [0, 0, 0, ...base, ...base.map((value) => -v * value)];
  const form = (a: readonly number[], b: readonly number[]): number => {
    let sum = 0;
    for (let i = 0; i < 9; i++) for (let j = 0; j < 9; j++) sum += a[i]! * plane.covariance[9 * i + j]! * b[j]!;
    return sum;
  };
  const [cuu, cuv, cvv] = [form(rowU, rowU), form(rowU, rowV), form(rowV, rowV)];
  const [a, b, c, d] = slopeThrough(plane.imageToPaper, pointPx);
  const xx = a * a * cuu + 2 * a * b * cuv + b * b * cvv;
  const yy = c * c * cuu + 2 * c * d * cuv + d * d * cvv;
  const xy = a * c * cuu + (a * d + b * c) * cuv + b * d * cvv;
  return {
    cornersMm: cornerPx * Math.sqrt(Math.max(0, largestEigenvalue(xx, xy, yy))),
    pixelMm: Math.sqrt(largestEigenvalue(a * a + b * b, a * c + b * d, c * c + d * d)),
  };
}

const largestEigenvalue = (xx: number, xy: number, yy: number): number => (xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy);
