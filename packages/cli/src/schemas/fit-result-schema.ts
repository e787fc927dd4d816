import type {
  BarGive,
  Capacity,
  ContactFigures,
  Finding,
  FitResult,
  FlexFigures,
  MaterialUsed,
  SolvedCapacity,
  StationMismatch,
  TipGive,
} from '@barwright/geometry';
import { about, boolean, fields, type JsonSchema, list, number, oneOf, orNull, text } from './json-schema.ts';

/** One schema per field: adding a figure to a result without publishing it is a type error. */
type Fields<Of> = Record<keyof Of, JsonSchema>;

const orNullNumber = orNull(number);
const threeNumbers = list(number, 3);
const share = about({ type: 'number', minimum: 0, maximum: 1 }, 'share, 0 to 1');

export const statusSchema: JsonSchema = oneOf('settled', 'no contact', 'off the data', 'iteration limit');

const contact: Fields<ContactFigures> = {
  areaCm2: about(number, 'on the underside; never to be read without p95, peak and shares'),
  areaLeftCm2: number,
  areaRightCm2: number,
  areaByThirdCm2: threeNumbers,
  coreAreaCm2: number,
  fraction: share,
  meanPressureKPa: number,
  loadOverAreaKPa: number,
  p95PressureKPa: about(number, '95th percentile weighted by area over contact cells'),
  peakPressureKPa: about(number, 'highest mean over the averaging cell'),
  averagingCellCm2: number,
  meanByThirdKPa: list(orNullNumber, 3),
  centreOfPressureXMm: orNullNumber,
  centreOfPressureYMm: orNullNumber,
  shareFront: number,
  shareMiddle: number,
  shareRear: number,
  shareLeft: number,
  shareRight: number,
  peakAt: orNull(fields({ side: oneOf('left', 'right'), bMm: number, t: number })),
};
export const contactSchema: JsonSchema = fields(contact);

const station: Fields<StationMismatch> = {
  name: text,
  side: oneOf('left', 'right'),
  bMm: number,
  xMm: number,
  barSlopeDeg: number,
  backSlopeDeg: number,
  mismatchDeg: about(number, '+ bar too steep (narrow), - too flat (wide)'),
};

const finding: Fields<Finding> = {
  code: text,
  side: oneOf('left', 'right', 'both'),
  fromMm: about(number, 'mm behind the blade edge'),
  toMm: number,
  sizeMm: number,
  causes: list(fields({ cause: text, names: list(text), sizeMm: number, sizeWithoutMm: number })),
  sentence: text,
  withinMeasuringError: boolean,
};

const solved: Fields<SolvedCapacity> = {
  loadAtPercent: number,
  meanN: orNullNumber,
  p95N: orNullNumber,
  peakN: orNullNumber,
  firstN: orNullNumber,
  firstReached: orNull(oneOf('mean', 'p95', 'peak')),
};
export const solvedSchema: JsonSchema = fields(solved);

const capacity: Fields<Capacity> = {
  ruleOfThumbN: about(number, 'tree bearing on this surface, not permission for a rider of that weight'),
  ruleOfThumbPsi: number,
  coreProjectionCm2: number,
  solved: list(solvedSchema),
};

const tip: Fields<FitResult['tips'][number]> = {
  side: oneOf('left', 'right'),
  innerGapMm: orNullNumber,
  bearingGapMm: orNullNumber,
  outerGapMm: orNullNumber,
  leastGapMm: orNullNumber,
  overBladeMm: number,
  contactCm2: number,
  meanPressureKPa: number,
  highestPressureKPa: number,
  loadN: number,
};
export const tipSchema: JsonSchema = fields(tip);

export const poseSchema: JsonSchema = fields({
  heightMm: number,
  pitchDeg: about(number, '+ front up'),
  rollDeg: about(number, '+ right side up'),
  shiftMm: number,
  yawDeg: about(number, '+ tail to the right'),
  barToHorse: about(list(number, 16), 'row-major 4x4, bar frame to horse frame'),
});
export const loadSchema: JsonSchema = fields({
  appliedN: number,
  supportedN: number,
  residualN: number,
  residualMomentNmm: number,
});
export const reactionsSchema: JsonSchema = fields({ xN: number, yN: number, aboutZNmm: number, atMm: threeNumbers });

const tipGive: Fields<TipGive> = {
  end: oneOf('front', 'rear'),
  freeMm: about(number, 'from the foot that holds it to the tip edge'),
  moveMm: about(number, 'at the middle of the tip edge, square to the underside, + away from the horse'),
  greatestMm: number,
  ofFreePercent: number,
  beyondLinear: about(boolean, 'more than a tenth of the free length: the linear shell is leaving its range'),
  rootStrainPercent: about(number, 'fatigue is not modelled'),
  rootStrainAtMm: number,
  strainLimitPercent: orNullNumber,
  strainSource: text,
  loadN: number,
};

const barGive: Fields<BarGive> = {
  side: oneOf('left', 'right'),
  tips: list(fields(tipGive), 2),
  middleMm: about(number, 'between fork and cantle, + away from the horse'),
  middleAtMm: number,
};

const flex: Fields<FlexFigures> = {
  temperatureC: number,
  hours: number,
  groundSeat: oneOf('none', 'leather', 'moulded'),
  groundSeatNPerMm2: number,
  bars: about(list(fields(barGive), 2), 'left first'),
  bentNmm: about(number, 'energy stored in bars and ties, N mm'),
  zones: list(fields({ name: text, loadN: number })),
};
export const flexSchema: JsonSchema = orNull(fields(flex));

const material: Fields<MaterialUsed> = {
  part: about(text, 'a layer by its name, or bar, lower, tip'),
  material: text,
  value: number,
  unit: oneOf('MPa', 'kPa at 25 %', 'kPa/mm'),
  range: orNull(list(number, 2)),
  source: text,
  warmth: orNull(fields({ temperatureC: number, factor: number, source: text })),
  time: orNull(fields({ hours: number, factor: number, source: text })),
  strainLimit: orNull(fields({ percent: orNullNumber, source: text })),
  beyondTable: boolean,
};

const result: Fields<FitResult> = {
  status: statusSchema,
  pose: poseSchema,
  load: loadSchema,
  reactions: reactionsSchema,
  contact: contactSchema,
  gap: fields({ minMm: orNullNumber, maxMm: orNullNumber, meanMm: orNullNumber, middleMm: orNullNumber }),
  mismatch: fields({
    lengthwiseLeftMm: about(orNullNumber, '+ bridges, - rocks'),
    lengthwiseRightMm: orNullNumber,
    stations: list(fields(station)),
  }),
  spine: fields({ atForkMm: orNullNumber, alongMm: orNullNumber, alongAtXMm: orNullNumber, channelMm: number }),
  tips: about(list(tipSchema, 2), 'front tips, left first'),
  flex: about(orNull(fields(flex)), 'null for rigid bars'),
  materials: list(fields(material)),
  findings: list(fields(finding)),
  capacity: orNull(fields(capacity)),
  coverage: fields({ excludedFraction: share, excludedCm2: number }),
  accuracy: fields({
    path: oneOf('fast', 'exact'),
    boundMm: orNullNumber,
    boundKPa: orNullNumber,
    gridErrorPercent: orNullNumber,
    smoothingMm: number,
    fast: orNull(
      fields({ boundMm: number, p99Mm: number, samples: number, smoothingMm: number, foldedFraction: number }),
    ),
  }),
  stability: fields({ lowestEigenvalue: number, unit: oneOf('N/mm'), leverMm: number }),
  frame: fields({ fileToHorse: list(number, 16) }),
};

export const fitResultSchema: JsonSchema = fields(result);
