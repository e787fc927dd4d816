import { PHOTO_TEXTS } from '../../look/texts/photo.ts';

const T = PHOTO_TEXTS.unread;

/** The longest side that is kept: about ten pixels to the millimetre on A4, and 40 MB at most. */
export const LONGEST_PX = 3200;
const MOST_BYTES = 120e6;
const MOST_PX = 250e6;
const LEAST_PX = 200;

export interface DecodedPhoto {
  readonly bitmap: ImageBitmap;
  /** Upright, as its EXIF orientation says, before it was made smaller. */
  readonly fullWidthPx: number;
  readonly fullHeightPx: number;
}

/** Why a file can't be used as a photo, in words; null when it can. */
export class PhotoRefused extends Error {}

/** Reads a picture upright and not larger than the desk can hold. @throws PhotoRefused */
export async function decodePhoto(file: File): Promise<DecodedPhoto> {
  if (file.size > MOST_BYTES)
    throw new PhotoRefused(T.tooHeavy(file.name, (file.size / 1e6).toFixed(0), MOST_BYTES / 1e6));
  const full = await upright(file);
  const { width, height } = full;
  if (width * height > MOST_PX || Math.min(width, height) < LEAST_PX) {
    full.close();
    throw new PhotoRefused(T.size(file.name, width, height, LEAST_PX, MOST_PX / 1e6));
  }
  const share = Math.min(1, LONGEST_PX / Math.max(width, height));
  if (share === 1) return { bitmap: full, fullWidthPx: width, fullHeightPx: height };
  const bitmap = await createImageBitmap(full, {
    resizeWidth: Math.round(width * share),
    resizeHeight: Math.round(height * share),
    resizeQuality: 'high',
  });
  full.close();
  return { bitmap, fullWidthPx: width, fullHeightPx: height };
}

async function upright(file: File): Promise<ImageBitmap> {
  try {
    return await createImageBitmap(file, { imageOrientation: 'from-image' });
  } catch {
    throw new PhotoRefused(T.noPicture(file.name));
  }
}

/** Red, green, blue, alpha of each pixel, row by row from the top left; what is see-through counts as white paper. */
export function pixelsOf(bitmap: ImageBitmap): Uint8ClampedArray<ArrayBuffer> {
  const { width, height } = bitmap;
  const pen = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
  if (pen === null) throw new PhotoRefused(T.noPixels);
  pen.fillStyle = '#fff';
  pen.fillRect(0, 0, width, height);
  pen.drawImage(bitmap, 0, 0);
  return pen.getImageData(0, 0, width, height).data;
}
