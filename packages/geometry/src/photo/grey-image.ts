import { InputError } from '../numeric/index.ts';

/** A picture in grey, row by row from the top: 0 black, 255 white. */
export interface GreyImage {
  readonly width: number;
  readonly height: number;
  readonly grey: Uint8Array;
}

/** [x, y] in pixels from the picture's left top corner, y down; a pixel's middle lies at halves: the first at [0.5, 0.5]. */
export type PixelPoint = readonly [number, number];

/** Most pixels of a picture: 40 million. */
export const MOST_PIXELS = 40_000_000;

/** @throws InputError 'inconsistent' where size and data differ, 'too-large' beyond MOST_PIXELS, 'empty' without pixels */
export function checkImage({ width, height, grey }: GreyImage): void {
  const isWhole = Number.isInteger(width) && Number.isInteger(height);
  if (isWhole && width > 0 && height > 0 && width * height > MOST_PIXELS) {
    throw new InputError({
      code: 'too-large',
      field: 'image',
      got: `${width} x ${height} pixels`,
      expected: `at most ${MOST_PIXELS / 1e6} million pixels`,
      remedy: 'Make the photo smaller; 12 million pixels are plenty',
    });
  }
  if (isWhole && width > 0 && height > 0 && grey.length === width * height) return;
  throw new InputError({
    code: grey.length === 0 ? 'empty' : 'inconsistent',
    field: 'image',
    got: `${width} x ${height} with ${grey.length} values`,
    expected: 'one grey value for each pixel',
    remedy: 'Open the photo again',
  });
}

/**
 * Grey pictures from the red, green, blue, alpha bytes that a page decodes a photo to: `light` is brightness (luma of
 * ITU-R BT.601, from memory), for the marks; `ink` is the darkest of the three colours, in which a pen of any colour is dark.
 */
export function greyFromRgba(
  rgba: ArrayLike<number>,
  width: number,
  height: number,
): { light: GreyImage; ink: GreyImage } {
  const count = width * height;
  const light = new Uint8Array(count);
  const ink = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const [r, g, b] = [rgba[4 * i]!, rgba[4 * i + 1]!, rgba[4 * i + 2]!];
    light[i] = Math.round(0.299 * r + 0.587 * g + 0.114 * b);
    ink[i] = Math.min(r, g, b);
  }
  return { light: { width, height, grey: light }, ink: { width, height, grey: ink } };
}

/** Grey value between pixels, bilinear; beyond the border the border's. */
export function greyAt({ width, height, grey }: GreyImage, x: number, y: number): number {
  const u = Math.min(width - 1, Math.max(0, x - 0.5));
  const v = Math.min(height - 1, Math.max(0, y - 0.5));
  const i = Math.min(width - 2, Math.floor(u));
  const j = Math.min(height - 2, Math.floor(v));
  if (i < 0 || j < 0) return grey[Math.round(v) * width + Math.round(u)]!;
  const [s, t] = [u - i, v - j];
  const k = j * width + i;
  const upper = grey[k]! * (1 - s) + grey[k + 1]! * s;
  const lower = grey[k + width]! * (1 - s) + grey[k + width + 1]! * s;
  return upper * (1 - t) + lower * t;
}

/** The picture made smaller by a whole factor, each pixel the mean of a square. */
export function shrinkImage(image: GreyImage, by: number): GreyImage {
  if (by === 1) return image;
  const width = Math.floor(image.width / by);
  const height = Math.floor(image.height / by);
  const grey = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (let dy = 0; dy < by; dy++) {
        const row = (y * by + dy) * image.width + x * by;
        for (let dx = 0; dx < by; dx++) sum += image.grey[row + dx]!;
      }
      grey[y * width + x] = Math.round(sum / (by * by));
    }
  }
  return { width, height, grey };
}
