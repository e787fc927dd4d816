import { FINDING_WORDS, type Reach, type ReachNode } from '@barwright/geometry';
import { figureText, gapFigure, type Units } from '../../look/format.ts';

/** A place on the map by its column and row, row 0 the straightest back. */
export interface MapPlace {
  readonly column: number;
  readonly row: number;
}

export const nodeAt = ({ slopesDeg, nodes }: Reach, { column, row }: MapPlace): ReachNode =>
  nodes[row * slopesDeg.length + column]!;

export const middleOf = ({ slopesDeg, sagsMm }: Reach): MapPlace => ({
  column: (slopesDeg.length - 1) / 2,
  row: (sagsMm.length - 1) / 2,
});

/** What a node shows: the finding furthest over its rule, or nearest to it. */
export function showsWords({ status, code, ratio }: ReachNode): string {
  if (ratio === null) return `no result: ${status}`;
  if (code === null) return 'no finding, none within half of its rule';
  const times = `${FINDING_WORDS[code]} ${ratio.toFixed(1)} times its rule`;
  return ratio <= 1 ? `no finding; nearest is ${times}` : times;
}

/** All that comes within half of its rule, furthest first. */
export function allWords({ ratios }: ReachNode): string {
  return (Object.entries(ratios) as [keyof typeof FINDING_WORDS, number][])
    .sort((a, b) => b[1] - a[1])
    .map(([code, ratio]) => `${FINDING_WORDS[code]} ${ratio.toFixed(2)}`)
    .join(', ');
}

/** Where a node lies against the measured back. */
export function placeWords({ slopesDeg, sagsMm }: Reach, { column, row }: MapPlace, units: Units): string {
  const [slope, sag] = [slopesDeg[column]!, sagsMm[row]!];
  if (slope === 0 && sag === 0) return 'the back as measured';
  const slopeText = slope === 0 ? 'same slope' : `${Math.abs(slope).toFixed(1)}° ${slope > 0 ? 'steeper' : 'flatter'}`;
  const sagText =
    sag === 0
      ? 'same curve'
      : `${figureText(gapFigure(Math.abs(sag), units))} ${sag > 0 ? 'more' : 'less'} sag over the bearing length`;
  return `a back ${slopeText}, ${sagText}`;
}
