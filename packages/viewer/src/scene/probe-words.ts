import {
  angleFigure,
  decimalFigure,
  type FigureParts,
  figureText,
  gapFigure,
  lengthFigure,
  pressureFigure,
  type Units,
} from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { type CellReading, fallDeg, type ProbePlace } from './build/probe.ts';

const T = TEXTS.looking;

export interface ProbeLine {
  readonly name: string;
  readonly figure: FigureParts;
}

const NOTHING: FigureParts = decimalFigure(null, '', 0);

/** What the probe says of a cell, in the order it is read. */
export function cellLines(at: CellReading, units: Units): ProbeLine[] {
  const gap = at.gapMm ?? Number.NaN;
  return [
    { name: T.station, figure: lengthFigure(at.bMm, units, { decimals: 0 }) },
    { name: T.behindBlade, figure: lengthFigure(at.xMm, units, { decimals: 0 }) },
    {
      name: gap < 0 ? TEXTS.squeeze : T.clearance,
      figure: at.hasData ? gapFigure(Math.abs(gap), units) : NOTHING,
    },
    { name: T.pressure, figure: at.hasData ? pressureFigure(at.pressureKPa, units) : NOTHING },
    { name: T.barSlope, figure: angleFigure(at.barSlopeDeg) },
    { name: T.backSlope, figure: angleFigure(at.backSlopeDeg) },
    { name: T.thickness, figure: lengthFigure(at.thicknessMm, units) },
    { name: T.give, figure: gapFigure(at.giveMm, units, { decimals: 2, signed: true }) },
  ];
}

/** What it says of a bare place of the back. */
export function backLines({ atMm, normal }: ProbePlace & { readonly on: 'back' }, units: Units): ProbeLine[] {
  const [x, y, z] = atMm;
  const side = y < 0 ? 'left' : 'right';
  return [
    { name: T.behindBlade, figure: lengthFigure(x, units, { decimals: 0 }) },
    { name: T.offMiddle, figure: lengthFigure(Math.abs(y), units, { decimals: 0 }) },
    { name: T.height, figure: lengthFigure(z, units, { decimals: 0 }) },
    { name: T.backSlope, figure: angleFigure(fallDeg(normal, 0, side)) },
  ];
}

export const spoken = (title: string, lines: readonly ProbeLine[]): string =>
  `${title}: ${lines.map(({ name, figure }) => `${name} ${figureText(figure)}`).join(', ')}`;
