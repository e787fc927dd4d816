import type { SheetDisc, SheetPoint } from '../drawing/index.ts';
import { type GreyImage, greyAt, type PixelPoint } from './grey-image.ts';
import { type Matrix3, slopeThrough, through } from './matrix3.ts';

export interface FoundDisc {
  readonly tile: number;
  readonly edge: SheetDisc['edge'];
  /** From where the corner marks say it should be, mm; null where it can't be seen. */
  readonly offMm: number | null;
}

/** How far about its place a disc is looked for, in its radii. */
const WINDOW = 2.2;

/**
 * Distance of a printed disc from where the map puts it. The middle of a disc's picture lies a little off the picture of
 * its middle in a tilted photo: under 0.02 mm for these discs.
 */
export function discOffset(
  image: GreyImage,
  disc: SheetDisc,
  map: { readonly imageToPaper: Matrix3; readonly paperToImage: Matrix3 },
): number | null {
  const [px, py] = through(map.paperToImage, disc.centreMm);
  const [a, b, c, d] = slopeThrough(map.paperToImage, disc.centreMm);
  const pixelsPerMm = Math.sqrt(Math.abs(a * d - b * c));
  const reach = WINDOW * disc.radiusMm * pixelsPerMm;
  if (reach < 4 || px < reach || py < reach || px > image.width - reach || py > image.height - reach) return null;
  const first = darkCentre(image, [px, py], reach);
  if (first === null) return null;
  const again = darkCentre(image, first.at, reach);
  if (again === null) return null;
  const ideal = Math.PI * (disc.radiusMm * pixelsPerMm) ** 2;
  if (again.area < 0.6 * ideal || again.area > 1.6 * ideal) return null;
  const paper: SheetPoint = through(map.imageToPaper, again.at);
  return Math.hypot(paper[0] - disc.centreMm[0], paper[1] - disc.centreMm[1]);
}

function darkCentre(image: GreyImage, [cx, cy]: PixelPoint, reach: number): { at: PixelPoint; area: number } | null {
  const values: number[] = [];
  const places: PixelPoint[] = [];
  for (let y = Math.floor(cy - reach); y <= cy + reach; y++) {
    for (let x = Math.floor(cx - reach); x <= cx + reach; x++) {
      if (Math.hypot(x + 0.5 - cx, y + 0.5 - cy) > reach) continue;
      places.push([x + 0.5, y + 0.5]);
      values.push(greyAt(image, x + 0.5, y + 0.5));
    }
  }
  const sorted = [...values].sort((a, b) => a - b);
  const [dark, light] = [sorted[Math.floor(0.06 * sorted.length)]!, sorted[Math.floor(0.7 * sorted.length)]!];
  if (light - dark < 24) return null;
  let [sum, sx, sy] = [0, 0, 0];
  for (const [i, value] of values.entries()) {
    // What is lighter than a quarter below the paper is paper with its noise.
    const weight = Math.max(0, Math.min(1, (light - 0.25 * (light - dark) - value) / (0.75 * (light - dark))));
    sum += weight;
    sx += weight * places[i]![0];
    sy += weight * places[i]![1];
  }
  return { at: [sx / sum, sy / sum], area: sum };
}
