import type { GreyImage, PixelPoint } from './grey-image.ts';

/** Brightness of the bare paper over a part of a photo, block by block. */
export interface PaperLight {
  readonly left: number;
  readonly top: number;
  readonly block: number;
  readonly columns: number;
  readonly rows: number;
  readonly values: Float32Array;
}

/** Share of a block's pixels that are darker than the paper's own grey: pen lines cover less than three quarters. */
const PAPER_SHARE = 0.75;

/** The grey that three quarters of a block's pixels stay below, over the box about some points with half its size beside. */
export function paperLight(image: GreyImage, about: readonly PixelPoint[], penPx: number): PaperLight {
  const block = Math.max(16, Math.ceil(4 * penPx));
  const [xs, ys] = [about.map((p) => p[0]), about.map((p) => p[1])];
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const margin = 2 * block + 0.5 * Math.hypot(x1 - x0, y1 - y0);
  const left = Math.max(0, Math.floor(x0 - margin));
  const top = Math.max(0, Math.floor(y0 - margin));
  const columns = Math.max(1, Math.ceil((Math.min(image.width, x1 + margin) - left) / block));
  const rows = Math.max(1, Math.ceil((Math.min(image.height, y1 + margin) - top) / block));
  const values = new Float32Array(columns * rows);
  const counts = new Uint32Array(256);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      counts.fill(0);
      let total = 0;
      const bottom = Math.min(image.height, top + (row + 1) * block);
      const right = Math.min(image.width, left + (column + 1) * block);
      for (let y = top + row * block; y < bottom; y++) {
        for (let x = left + column * block; x < right; x++) {
          counts[image.grey[y * image.width + x]!]!++;
          total++;
        }
      }
      let grey = 0;
      for (let below = counts[0]!; below < PAPER_SHARE * total && grey < 255; below += counts[grey]!) grey++;
      values[row * columns + column] = grey;
    }
  }
  return { left, top, block, columns, rows, values };
}

/** The same between the blocks' middles, bilinear. */
export function lightAt({ left, top, block, columns, rows, values }: PaperLight, x: number, y: number): number {
  const u = Math.min(columns - 1, Math.max(0, (x - left) / block - 0.5));
  const v = Math.min(rows - 1, Math.max(0, (y - top) / block - 0.5));
  const [i, j] = [Math.floor(u), Math.floor(v)];
  const [i1, j1] = [Math.min(columns - 1, i + 1), Math.min(rows - 1, j + 1)];
  const [s, t] = [u - i, v - j];
  const upper = values[j * columns + i]! * (1 - s) + values[j * columns + i1]! * s;
  const lower = values[j1 * columns + i]! * (1 - s) + values[j1 * columns + i1]! * s;
  return upper * (1 - t) + lower * t;
}
