import heavy from '../../../../examples/heavy.rider.json' with { type: 'json' };
import light from '../../../../examples/light.rider.json' with { type: 'json' };
import post from '../../../../examples/post.pattern.json' with { type: 'json' };
import shelf from '../../../../examples/quillback-lane.shelf.json' with { type: 'json' };
import giving from '../../../../examples/quillback-lane-giving.shelf.json' with { type: 'json' };
import { readPattern } from '../pattern/index.ts';
import { readRider } from './rider-schema.ts';
import { readShelf } from './shelf-schema.ts';

export const RIDERS = { heavy: readRider(heavy), light: readRider(light) };
export const SHELF_JSON = shelf;
/** The same shop's, with tips that give beside the rigid ones. */
export const GIVING_JSON = giving;
export const POST = readPattern(post);

/** The demo shelf with fewer seats, widths and tips. */
export const shortShelf = (
  seats: readonly string[],
  widths: readonly string[] = ['middle', 'flat'],
  tips = ['lifted tips'],
) =>
  readShelf({
    ...shelf,
    seats,
    widths: shelf.widths.filter(({ label }) => widths.includes(label)),
    tips: shelf.tips.filter(({ label }) => tips.includes(label)),
  });
