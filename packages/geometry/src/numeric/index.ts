export {
  createSplineBasis,
  createSplineRow,
  evaluateSplines,
  SPLINE_ORDER,
  type SplineBasis,
  type SplineRow,
} from './b-spline.ts';
export { addToBand, type BandMatrix, createBand, factorBand, multiplyBand, solveBand } from './band-cholesky.ts';
export { type CubicSpline, cubicSpline } from './cubic-spline.ts';
export { gaussLegendre, type QuadratureRule } from './gauss-legendre.ts';
export { InputError, type InputErrorCode, type InputErrorDetails, showGot } from './input-error.ts';
export {
  addJet,
  applyJet,
  constantJet,
  cosJet,
  type Jet1,
  multiplyJet,
  scaleJet,
  sinJet,
  sqrtJet,
} from './jet1.ts';
export { type Curve1, hermite, intervalOf, monotoneCubic } from './monotone-cubic.ts';
export { JSON_LIMITS, type JsonLimits, parseJson } from './parse-json.ts';
export { plateau, rampUp } from './ramps.ts';
export { type Random, seededRandom } from './random.ts';
export {
  type EulerAngles,
  type Matrix4,
  matrixOf,
  multiplyMatrices,
  rotationOf,
  transformDirection,
  transformPoint,
} from './rigid-motion.ts';
export { downhillStep, symmetricEigen, symmetricEigenvalues } from './symmetric.ts';
