import { type Rgb, toHex } from '@barwright/geometry';

const STOPS = 24;

/** A map's colours from 0 to 1 as the background of a scale. */
export const gradient = (colour: (share: number) => Rgb): string =>
  `linear-gradient(to right, ${Array.from({ length: STOPS + 1 }, (_, i) => toHex(colour(i / STOPS))).join(', ')})`;
