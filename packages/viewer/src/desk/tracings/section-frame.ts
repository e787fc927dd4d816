import type { LaidStation } from './tracings-service.ts';

/** One scale and one frame for all sections, so that they can be compared by eye. */
export interface SectionFrame {
  readonly pxPerMm: number;
  readonly width: number;
  readonly height: number;
  toX(yMm: number): number;
  /** From the height of the section at its middle, mm. */
  toY(aboveMiddleMm: number): number;
}

const LEAST_PANEL_PX = 150;
const MOST_PANEL_PX = 300;
const EDGE_PX = 12;
const HEAD_PX = 20;
const FOOT_PX = 16;

/** Pairs y, z of one section. */
export type Pairs = Float64Array;

export function sectionFrame(sections: readonly Pairs[], widthPx: number): SectionFrame {
  let half = 100;
  let above = 10;
  let below = 40;
  for (const pairs of sections) {
    const middle = middleHeight(pairs);
    for (let i = 0; i < pairs.length; i += 2) {
      half = Math.max(half, Math.abs(pairs[i]!));
      above = Math.max(above, pairs[i + 1]! - middle);
      below = Math.max(below, middle - pairs[i + 1]!);
    }
  }
  const columns = Math.max(
    1,
    Math.min(sections.length, Math.floor(widthPx / LEAST_PANEL_PX), Math.max(2, Math.ceil(widthPx / MOST_PANEL_PX))),
  );
  const width = Math.min(420, Math.floor(widthPx / columns) - 8);
  const pxPerMm = (width - 2 * EDGE_PX) / (2 * half);
  return {
    pxPerMm,
    width,
    height: Math.ceil((above + below) * pxPerMm) + HEAD_PX + FOOT_PX,
    toX: (yMm) => width / 2 + yMm * pxPerMm,
    toY: (aboveMiddleMm) => HEAD_PX + (above - aboveMiddleMm) * pxPerMm,
  };
}

/** Height at the point nearest the midline: what the level line is drawn through. */
export function middleHeight(pairs: Pairs): number {
  let best = 0;
  for (let i = 0; i < pairs.length; i += 2) if (Math.abs(pairs[i]!) < Math.abs(pairs[best]!)) best = i;
  return pairs[best + 1] ?? 0;
}

/** One side of a line as a path; the other side is turned over onto it with `mirrored`. */
export function sidePath(
  pairs: Pairs,
  side: 'left' | 'right',
  frame: SectionFrame,
  middle: number,
  mirrored = false,
): string {
  let path = '';
  const sign = side === 'left' ? -1 : 1;
  for (let i = 0; i < pairs.length; i += 2) {
    const y = pairs[i]!;
    if (sign * y < 0) continue;
    path += `${path === '' ? 'M' : 'L'}${frame.toX(mirrored ? -y : y).toFixed(1)} ${frame.toY(pairs[i + 1]! - middle).toFixed(1)}`;
  }
  return path;
}

export const wholePath = (pairs: Pairs, frame: SectionFrame, middle: number): string =>
  Array.from(
    { length: pairs.length / 2 },
    (_, k) =>
      `${k === 0 ? 'M' : 'L'}${frame.toX(pairs[2 * k]!).toFixed(1)} ${frame.toY(pairs[2 * k + 1]! - middle).toFixed(1)}`,
  ).join('');

export const keyOf = (station: Pick<LaidStation, 'ids'>): string => station.ids.join('+');
