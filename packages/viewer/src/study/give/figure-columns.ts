import type { GiveFigures } from '@barwright/geometry';
import {
  angleFigure,
  areaFigure,
  decimalFigure,
  type FigureParts,
  figureText,
  forceFigure,
  gapFigure,
  pressureFigure,
  type Units,
} from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { frontTipMm, middleMm, mostStrained, tipLoadN } from './give-figures.ts';

const T = TEXTS.give.columns;

/** One figure of a variant: how it is read and said. null: rigid bars have none. */
export interface GiveColumn {
  readonly name: string;
  readonly of: (figures: GiveFigures) => number | null;
  readonly say: (value: number | null, units: Units) => FigureParts;
}

export const GIVE_COLUMNS: readonly GiveColumn[] = [
  { name: T.tips, of: tipLoadN, say: forceFigure },
  { name: T.tipMoves, of: frontTipMm, say: (mm, units) => gapFigure(mm, units, { decimals: 2 }) },
  { name: T.strain, of: (f) => mostStrained(f)?.rootStrainPercent ?? null, say: (v) => decimalFigure(v, '%', 2) },
  { name: T.middleMoves, of: middleMm, say: (mm, units) => gapFigure(mm, units, { decimals: 2 }) },
  { name: T.middleGap, of: (f) => f.middleGapMm, say: (mm, units) => gapFigure(mm, units) },
  { name: T.frontTipGap, of: (f) => f.frontTipGapMm, say: (mm, units) => gapFigure(mm, units) },
  { name: T.area, of: (f) => f.areaCm2, say: areaFigure },
  { name: T.mean, of: (f) => f.meanKPa, say: pressureFigure },
  { name: T.p95, of: (f) => f.p95KPa, say: pressureFigure },
  { name: T.peak, of: (f) => f.peakKPa, say: pressureFigure },
  { name: T.pitch, of: (f) => f.pitchDeg, say: (deg) => angleFigure(deg) },
];

/** Of two figures, the second less the first, with its sign; empty where either is missing. */
export function differenceText(column: GiveColumn, from: GiveFigures, to: GiveFigures, units: Units): string {
  const [a, b] = [column.of(from), column.of(to)];
  if (a === null || b === null) return '';
  const text = figureText(column.say(b - a, units));
  return b > a && /[1-9]/.test(text) ? `+${text}` : text;
}
