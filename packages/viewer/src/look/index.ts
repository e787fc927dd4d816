export type { Rgb } from '@barwright/geometry';
export {
  CLEARANCE_SCALE_DEFAULT,
  type ClearanceScale,
  clearanceColour,
  NO_DATA,
  PRESSURE_SCALE_DEFAULT,
  type PressureScale,
  pressureColour,
} from '@barwright/geometry';
export { Figure } from './Figure.tsx';
export {
  angleFigure,
  areaFigure,
  decimalFigure,
  type FigureParts,
  figureText,
  forceFigure,
  gapFigure,
  lengthFigure,
  METRIC,
  massFigure,
  pressureFigure,
  SHOP,
  shareFigure,
  type Units,
} from './format.ts';
export { TEXTS } from './texts.ts';
