export { type ChangedBacks, type ChangeMapOptions, drawChangeMap } from './change-map.ts';
export { CHANGE_SCALE_DEFAULT, type ChangeScale } from './change-map-scale.ts';
export {
  CLEARANCE_SCALE_DEFAULT,
  type ClearanceScale,
  clearanceColour,
  clearanceOklab,
  MAP_ANCHORS,
  NO_DATA,
  PRESSURE_SCALE_DEFAULT,
  type PressureScale,
  pressureColour,
  pressureOklab,
} from './colour-maps.ts';
export { decodeSrgb, encodeSrgb, type Oklab, oklabToSrgb, type Rgb, srgbToOklab, toHex } from './oklab.ts';
export { drawPressureMap, type PressureMapOptions } from './pressure-map.ts';
export { type Chain, type Crossing, levelLines, regionRings, type ValueGrid } from './pressure-map-contours.ts';
export { createMapGrid, type MapGrid, type MapQuantity } from './pressure-map-grid.ts';
export type { MapWords } from './pressure-map-notes.ts';
export { createMapScale, MAP_SCALES_DEFAULT, type MapScale, type MapScales } from './pressure-map-scale.ts';
export { drawReachMap, type ReachMapOptions } from './reach-map.ts';
export { SHEET_UNITS } from './sheet-pen.ts';
export {
  type TakeOff,
  type TakeOffAlign,
  type TakeOffBar,
  type TakeOffOptions,
  takeOff,
  takeOffAt,
} from './take-off.ts';
export {
  drawTakeOff,
  sixteenths,
  TAKE_OFF_STEPS,
  type TakeOffSheetOptions,
  type TakeOffStep,
  takeOffWords,
} from './take-off-sheet.ts';
export { drawTipSection, type TipSectionOptions } from './tip-section.ts';
export type { TipMaterial } from './tip-section-notes.ts';
export { type TipDimensions, tipDimensions } from './tip-section-shape.ts';
export { isBlackCell, type TracingSheetOptions, tracingSheet } from './tracing-sheet.ts';
export {
  CODE_CELLS,
  codeDistance,
  MARK_CELLS,
  MOST_TILES,
  mirrorCode,
  SHEET_CORNERS,
  SHEET_MARK_CODES,
  SHEET_PAPERS,
  type SheetCorner,
  type SheetMarkIdentity,
  type SheetPaper,
  turnCode,
} from './tracing-sheet-codes.ts';
export {
  SHEET_CELL_MM,
  SHEET_LAYOUT,
  SHEET_SIZES_MM,
  type SheetDisc,
  type SheetMark,
  type SheetPoint,
  type SheetTile,
  sheetsWidthMm,
  sheetTile,
} from './tracing-sheet-layout.ts';
