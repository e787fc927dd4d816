export {
  AMBIGUOUS_MEASURES,
  ambiguousMeasureError,
  askAboutMeasure,
  findChoice,
  type MeasureChoice,
  type MeasureQuestion,
} from './ambiguous-measure.ts';
export {
  DEG_PER_RAD,
  INCHES_PER_HAND,
  KG_PER_POUND,
  KPA_PER_PSI,
  MM_PER_FOOT,
  MM_PER_HAND,
  MM_PER_INCH,
  N_PER_POUND_FORCE,
  RAD_PER_DEG,
  STANDARD_GRAVITY,
} from './constants.ts';
export { fixed, formatInches, formatLength, type InchFraction, type LengthUnit, splitInches } from './format-length.ts';
export { formatAngle, formatForce, formatMass, formatPressure } from './format-quantity.ts';
export { readQuantity } from './read-quantity.ts';
export {
  MAX_NUMBER_LENGTH,
  normaliseSigns,
  readShopNumber,
  type ShopNumber,
  type ShopNumberOptions,
} from './read-shop-number.ts';
export { findUnit, type QuantityKind, toBaseUnit, type UnitName, unitKind } from './unit-table.ts';
