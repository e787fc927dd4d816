import type {
  BarMeasures,
  FlareMeasures,
  PairMeasures,
  RockMeasures,
  StationMeasures,
  TreeMeasures,
} from '@barwright/geometry';
import { fields, type JsonSchema, list, number, oneOf, orNull, text } from './json-schema.ts';

type Fields<Of> = Record<keyof Of, JsonSchema>;

const station: Fields<StationMeasures> = {
  name: text,
  bMm: number,
  slopeDeg: number,
  reliefChordSlopeDeg: number,
  middleTangentSlopeDeg: number,
  innerEdgeYMm: number,
  outerEdgeYMm: number,
  widthMm: number,
  crownRadiusMm: orNull(number),
  crownHeightMm: number,
  reliefWidthInnerMm: number,
  reliefWidthOuterMm: number,
  reliefDepthInnerMm: number,
  reliefDepthOuterMm: number,
  residualMm: number,
};

const rock: Fields<RockMeasures> = {
  line: oneOf('bearing', 'inner edge', 'middle', 'outer edge'),
  chordFromMm: number,
  chordToMm: number,
  chordMm: number,
  sagMm: number,
  radiusMm: orNull(number),
  radiusFitMm: orNull(number),
};

const flare: Fields<FlareMeasures> = { flareLiftMm: number, flareZoneMm: number, flareZoneFromStartMm: number };

const bar: Fields<BarMeasures> = {
  side: oneOf('left', 'right'),
  overallLengthMm: number,
  bearingLengthMm: number,
  bearingLine: text,
  stations: list(fields(station)),
  rock: list(fields(rock)),
  lowPointMm: orNull(number),
  twistDeg: number,
  twistDegPer100Mm: number,
  flareFront: fields(flare),
  flareRear: fields(flare),
  remarks: list(text),
};

const pair: Fields<PairMeasures> = {
  name: text,
  bMm: number,
  includedAngleDeg: number,
  includedAngleReliefChordDeg: number,
  spreadMm: number,
};

const measures: Fields<TreeMeasures> = {
  source: oneOf('pattern', 'mesh'),
  left: orNull(fields(bar)),
  right: orNull(fields(bar)),
  pairs: list(fields(pair)),
  definitions: { type: 'object', additionalProperties: fields({ id: text, sentence: text }) },
  remarks: list(text),
};

export const measureResultSchema: JsonSchema = fields(measures);
