import type { GreyImage } from '@barwright/geometry';
import type { Px } from './photo-work.ts';

/** A pen is darker than the paper about it by this share at least. Our own rule. */
const LEAST_DARKER = 0.15;

/** What counts as pen, as a share of the darkest place within reach: its ends and edges are not drawn inwards. */
const PEN_SHARE = 0.7;

/**
 * The pen line's place nearest to a click, for fingers and for photos seen small. The click itself where nothing within
 * reach is darker than paper.
 */
export function nearestPen(image: GreyImage, at: Px, reachPx: number): Px {
  const reach = Math.min(60, Math.max(1, Math.round(reachPx)));
  const [cx, cy] = [Math.floor(at[0]), Math.floor(at[1])];
  const seen: { x: number; y: number; grey: number; far: number }[] = [];
  for (let y = Math.max(1, cy - reach); y <= Math.min(image.height - 2, cy + reach); y++) {
    for (let x = Math.max(1, cx - reach); x <= Math.min(image.width - 2, cx + reach); x++) {
      const far = Math.hypot(x - cx, y - cy);
      if (far <= reach) seen.push({ x, y, grey: around(image, x, y), far });
    }
  }
  if (seen.length === 0) return at;
  const paper = seen.map(({ grey }) => grey).sort((a, b) => a - b)[Math.floor(0.8 * seen.length)]!;
  const darkerBy = (grey: number): number => (paper > 0 ? (paper - grey) / paper : 0);
  const most = Math.max(...seen.map(({ grey }) => darkerBy(grey)));
  if (most < LEAST_DARKER) return at;
  const pen = seen.filter(({ grey }) => darkerBy(grey) >= PEN_SHARE * most);
  const near = pen.reduce((a, b) => (b.far < a.far ? b : a));
  return [near.x + 0.5, near.y + 0.5];
}

/** Mean of a pixel and its four neighbours. */
const around = ({ grey, width }: GreyImage, x: number, y: number): number => {
  const i = y * width + x;
  return (grey[i]! + grey[i - 1]! + grey[i + 1]! + grey[i - width]! + grey[i + width]!) / 5;
};
