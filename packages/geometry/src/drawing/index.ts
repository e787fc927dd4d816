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
