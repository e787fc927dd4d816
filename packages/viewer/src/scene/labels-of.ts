import type { BackView } from '../contract.ts';
import { PICTURE_TEXTS } from '../look/texts/picture.ts';
import type { Label } from './Labels.tsx';

const T = PICTURE_TEXTS.places;

/** Upper end of the station plane, where its figure stands, mm. */
export const STATION_TOP_MM = 150;

/** What is marked on the back: words a person reads, at their places. */
export function labelsOf(back: BackView | null): Label[] {
  if (back === null) return [];
  const { bladeEdgeLeft, bladeEdgeRight, lastRib, proposed } = back.landmarks;
  const suffix = (name: (typeof proposed)[number]): string => (proposed.includes(name) ? T.proposed : '');
  return [
    { id: 'blade-left', text: T.leftBlade + suffix('bladeEdgeLeft'), at: bladeEdgeLeft },
    { id: 'blade-right', text: T.rightBlade + suffix('bladeEdgeRight'), at: bladeEdgeRight },
    { id: 'rib', text: T.lastRib + suffix('lastRib'), at: lastRib },
  ];
}

/** The marker's figure, at the top of its plane. */
export const stationLabel = (xMm: number, text: string): Label => ({
  id: 'station',
  text,
  at: [xMm, 0, STATION_TOP_MM],
  isBare: true,
});
