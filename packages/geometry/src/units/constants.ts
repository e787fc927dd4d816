/**
 * Exact conversion constants, the only place where they are written down.
 * Source: International yard and pound agreement (1959) for the inch and the pound; standard gravity of the
 * 3rd General Conference on Weights and Measures (1901); one hand is four inches (common practice).
 */
export const MM_PER_INCH = 25.4;
export const MM_PER_FOOT = 304.8;
export const MM_PER_HAND = 101.6;
export const INCHES_PER_HAND = 4;
export const KG_PER_POUND = 0.45359237;
/** Standard gravity, m/s^2. */
export const STANDARD_GRAVITY = 9.80665;
/** Newtons in one pound-force: the pound's mass under standard gravity. */
export const N_PER_POUND_FORCE = KG_PER_POUND * STANDARD_GRAVITY;
/** kPa in one pound-force per square inch (N per mm^2 is MPa, hence the thousand). */
export const KPA_PER_PSI = (1000 * N_PER_POUND_FORCE) / (MM_PER_INCH * MM_PER_INCH);
export const RAD_PER_DEG = Math.PI / 180;
export const DEG_PER_RAD = 180 / Math.PI;
