import { readLength } from './line-fields.ts';
import type { Photo } from './photo-work.ts';
import type { Asked } from './pixel-shelf.ts';
import type { PlaneRequest } from './plane-for.ts';

/** What to ask for a photo's plane, or what is wrong with the lengths typed for it. */
export function planeRequest(photo: Photo): Asked<PlaneRequest> {
  const { way, sheet, found, byHand, corners, rectangle, knownLength } = photo;
  if (way === 'sheet') return { ok: true, value: { way, sheet, found, byHand } };
  if (way === 'length') {
    const read = readLength(knownLength, 'mm', 'the length');
    return { ok: true, value: { way, lengthMm: 'mm' in read ? read.mm : 100 } };
  }
  const width = readLength(rectangle.width, 'mm', 'the side from 1 to 2');
  const height = readLength(rectangle.height, 'mm', 'the side from 2 to 3');
  if ('mm' in width && 'mm' in height)
    return { ok: true, value: { way, corners, widthMm: width.mm, heightMm: height.mm } };
  return {
    ok: false,
    error: {
      code: 'not-a-number',
      field: 'rectangle',
      got: `${rectangle.width} × ${rectangle.height}`,
      expected: 'two lengths',
      remedy: 'Write them as 210, 210 mm or 8 1/2 in',
    },
  };
}
