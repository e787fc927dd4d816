import type { Px } from './photo-work.ts';

/** Which part of the photo is seen: the photo's pixel at the view's middle, and screen pixels to a photo's pixel. */
export interface ViewBox {
  readonly middle: Px;
  readonly scale: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

const CLOSEST = 24;

export function fitBox(photo: Size, view: Size): ViewBox {
  const scale = Math.min(view.width / photo.width, view.height / photo.height) * 0.96;
  return { middle: [photo.width / 2, photo.height / 2], scale: Math.max(scale, 1e-3) };
}

export const toScreen = (box: ViewBox, view: Size, [x, y]: Px): Px => [
  view.width / 2 + (x - box.middle[0]) * box.scale,
  view.height / 2 + (y - box.middle[1]) * box.scale,
];

export const toPhoto = (box: ViewBox, view: Size, [x, y]: Px): Px => [
  box.middle[0] + (x - view.width / 2) / box.scale,
  box.middle[1] + (y - view.height / 2) / box.scale,
];

/** Moves what is seen by screen pixels; the view's middle stays on the photo. */
export function movedBox(box: ViewBox, photo: Size, byX: number, byY: number): ViewBox {
  return {
    scale: box.scale,
    middle: [
      clamp(box.middle[0] - byX / box.scale, 0, photo.width),
      clamp(box.middle[1] - byY / box.scale, 0, photo.height),
    ],
  };
}

/** Closer or further about a place on the screen that stays where it is. */
export function zoomedBox(box: ViewBox, photo: Size, view: Size, factor: number, about: Px): ViewBox {
  const least = fitBox(photo, view).scale / 2;
  const scale = clamp(box.scale * factor, Math.min(least, CLOSEST), CLOSEST);
  const held = toPhoto(box, view, about);
  const middle: Px = [held[0] - (about[0] - view.width / 2) / scale, held[1] - (about[1] - view.height / 2) / scale];
  return movedBox({ scale, middle }, photo, 0, 0);
}

const clamp = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value));
