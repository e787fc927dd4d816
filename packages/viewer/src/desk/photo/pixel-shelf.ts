import type { InputErrorDetails } from '@barwright/geometry';
import { transfer } from 'comlink';
import { deskLine } from '../desk-line.ts';
import { pixelsOf } from './decode-photo.ts';

/** Pictures by photo. They stay outside of undo: a photo that was taken off and comes back finds its pixels here. */
const shelf = new Map<number, ImageBitmap>();

export const shelve = (photoId: number, bitmap: ImageBitmap): void => {
  shelf.set(photoId, bitmap);
};

export const bitmapOf = (photoId: number): ImageBitmap | null => shelf.get(photoId) ?? null;

export type Asked<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly error: InputErrorDetails };

type Line = ReturnType<typeof deskLine>;
type Service = Parameters<Parameters<Line['ask']>[0]>[0];

/** Asks the desk's worker about photos; it is given the pixels first when it doesn't hold them (any more). */
export async function askAbout<T>(
  photoIds: readonly number[],
  call: (service: Service) => Promise<Asked<T>>,
): Promise<Asked<T>> {
  const line = deskLine();
  for (const photoId of new Set(photoIds)) {
    const held = await line.ask((service) => service.holdsPhoto(photoId));
    const bitmap = bitmapOf(photoId);
    if (!held.ok || held.value || bitmap === null) continue;
    const rgba = pixelsOf(bitmap);
    const given = transfer(rgba, [rgba.buffer]);
    await line.ask((service) => service.holdPhoto(photoId, given, bitmap.width, bitmap.height));
  }
  return line.ask((service) => call(service as Service) as Promise<never>);
}
