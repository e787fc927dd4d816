import { PHOTO_READING_TEXTS } from '../../look/texts/photo-reading.ts';
import { readLength } from './line-fields.ts';
import type { Photo } from './photo-work.ts';
import type { Asked } from './pixel-shelf.ts';
import type { PlaneRequest } from './plane-for.ts';

const T = PHOTO_READING_TEXTS.lengths;

/** What to ask for a photo's plane, or what is wrong with the lengths typed for it. */
export function planeRequest(photo: Photo): Asked<PlaneRequest> {
  const { way, sheet, found, byHand, corners, rectangle, knownLength } = photo;
  if (way === 'sheet') return { ok: true, value: { way, sheet, found, byHand } };
  if (way === 'length') {
    const read = readLength(knownLength, 'mm', T.known);
    return { ok: true, value: { way, lengthMm: 'mm' in read ? read.mm : 100 } };
  }
  const width = readLength(rectangle.width, 'mm', T.width);
  const height = readLength(rectangle.height, 'mm', T.height);
  if ('mm' in width && 'mm' in height)
    return { ok: true, value: { way, corners, widthMm: width.mm, heightMm: height.mm } };
  return {
    ok: false,
    error: {
      code: 'not-a-number',
      field: 'rectangle',
      got: T.got(rectangle.width, rectangle.height),
      expected: T.expected,
      remedy: T.remedy,
    },
  };
}
