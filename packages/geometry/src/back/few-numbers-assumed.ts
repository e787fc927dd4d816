import type { FewNumbers } from './few-numbers-back.ts';
import type { SectionsBackDocument } from './sections-schema.ts';

/** One value of a document made from few numbers that none of them fixes. */
export interface AssumedValue {
  /** Dotted path in the document. */
  readonly field: string;
  readonly value: number | null;
  readonly unit: 'mm' | 'deg';
  /** How it came about. */
  readonly why: string;
}

const SHARE = "share of the bearing line's slope on an average back: from memory, no source";
const SCALED = 'set so that the withers have their width; that both inner slopes are scaled alike is assumed';
const BETWEEN = 'smooth curve between the places that were measured';
const CARRIED = 'carried on from the last place that was measured';
const ABSENT = 'not measured: taken as none';

/** Stations of the three slopes that were measured, among the seven of the document. */
const MEASURED_AT: ReadonlySet<number> = new Set([1, 3, 5]);
/** The slope at the bearing line, among the four of a station. */
const AT_LINE = 2;

/** Whether a slope of the document is one that was measured. */
export const isMeasuredSlope = (station: number, place: number): boolean =>
  MEASURED_AT.has(station) && place === AT_LINE;

/** Every value of the sections that the numbers leave open, with its value and where that came from. */
export function assumedValues(document: SectionsBackDocument, numbers: FewNumbers): AssumedValue[] {
  const out: AssumedValue[] = [];
  const last = document.stationsMm.length - 1;
  for (const [k, row] of document.slopeDeg.entries()) {
    for (const [j, value] of row.entries()) {
      if (isMeasuredSlope(k, j)) continue;
      const why =
        k === 0 || k === last ? CARRIED : !MEASURED_AT.has(k) ? BETWEEN : k === 1 && j < AT_LINE ? SCALED : SHARE;
      out.push({ field: `slopeDeg.${k}.${j}`, value, unit: 'deg', why });
    }
  }
  const line =
    numbers.bearingLineSagMm === undefined
      ? 'from the dip of the topline and the assumed sections; bearing line taken as equally high at blade edge and last rib'
      : 'parabola of the sag; bearing line taken as equally high at blade edge and last rib';
  for (const [k, value] of document.bearingHeightMm.entries()) {
    out.push({ field: `bearingHeightMm.${k}`, value, unit: 'mm', why: line });
  }
  const { left } = document.asymmetry;
  return [
    ...out,
    {
      field: 'edgeSlopeAddDeg',
      value: document.edgeSlopeAddDeg,
      unit: 'deg',
      why: 'beyond 180 mm: from memory, no source',
    },
    ...(left === null
      ? []
      : [
          {
            field: 'asymmetry.left.slopeDeg',
            value: left.slopeDeg,
            unit: 'deg' as const,
            why: 'mean of the three differences, the same all along',
          },
        ]),
    ...(['left', 'right'] as const).flatMap((side): AssumedValue[] => [
      { field: `bladeBulge.${side}.heightMm`, value: document.bladeBulge[side].heightMm, unit: 'mm', why: ABSENT },
      { field: `hollow.${side}`, value: null, unit: 'mm', why: ABSENT },
    ]),
    { field: 'bladeSwingMm', value: document.bladeSwingMm, unit: 'mm', why: ABSENT },
  ];
}
