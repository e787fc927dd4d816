export {
  CLEARANCE_SCALE_DEFAULT,
  type ClearanceScale,
  clearanceColour,
  NO_DATA,
  PARCHMENT,
  PLUM,
  PRESSURE_SCALE_DEFAULT,
  type PressureScale,
  pressureColour,
  RUST,
  TEAL,
} from './colour-maps.ts';
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
export type { Rgb } from './oklab.ts';
export { TEXTS } from './texts.ts';
