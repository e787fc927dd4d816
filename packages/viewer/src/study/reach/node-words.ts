import { FINDING_WORDS, type Reach, type ReachNode } from '@barwright/geometry';
import { figureText, gapFigure, type Units } from '../../look/format.ts';
import { REACH_TEXTS } from '../../look/texts/reach.ts';

const T = REACH_TEXTS.node;
const P = REACH_TEXTS.place;

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
  if (ratio === null) return T.noResult(status);
  if (code === null) return T.noFinding;
  const times = T.times(FINDING_WORDS[code], ratio.toFixed(1));
  return ratio <= 1 ? T.nearest(times) : times;
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
  if (slope === 0 && sag === 0) return P.measured;
  return P.back(slopeWords(slope), sagWords(sag, units));
}

function slopeWords(slope: number): string {
  if (slope === 0) return P.sameSlope;
  return (slope > 0 ? P.steeper : P.flatter)(Math.abs(slope).toFixed(1));
}

function sagWords(sag: number, units: Units): string {
  if (sag === 0) return P.sameCurve;
  return (sag > 0 ? P.moreSag : P.lessSag)(figureText(gapFigure(Math.abs(sag), units)));
}
