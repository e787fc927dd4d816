import type {
  CoverRow,
  GiveFigures,
  GiveStudy,
  LoadedShape,
  LoadedStation,
  PartRow,
  RideGiveRow,
  WarmUpRow,
} from '@barwright/geometry';
import { numberOrNull } from './envelope-schema.ts';
import { flexSchema, statusSchema } from './fit-result-schema.ts';
import { about, fields, type JsonSchema, list, number, orNull, text } from './json-schema.ts';

type Fields<Of> = Record<keyof Of, JsonSchema>;

const figures: Fields<GiveFigures> = {
  status: statusSchema,
  heightMm: number,
  pitchDeg: about(number, '+ front up'),
  areaCm2: number,
  meanKPa: number,
  p95KPa: number,
  peakKPa: number,
  middleGapMm: about(numberOrNull, 'under the middle of the bearing line, loaded, mean of both sides, - squeezed'),
  lengthwiseMm: about(numberOrNull, 'laid on, mean of both sides, + bridges'),
  frontTipGapMm: about(numberOrNull, 'least at a front tip edge, loaded'),
  spineAlongMm: numberOrNull,
  zones: about(list(fields({ name: text, loadN: number })), 'vertical force by part of the bars, both bars'),
  flex: flexSchema,
};
const part: Fields<PartRow> = { part: text, changed: text, figures: fields(figures) };
const moment: Fields<WarmUpRow> = {
  minutes: number,
  hours: number,
  barC: number,
  layerC: number,
  figures: fields(figures),
};
const cover: Fields<CoverRow> = {
  name: text,
  angleDeg: about(number, 'change of the included angle, + wider'),
  spreadMm: number,
  figures: fields(figures),
};
const ride: Fields<RideGiveRow> = {
  factor: number,
  seatTravelMm: about(number, 'downward, from the setup at its own factor'),
  storedNmm: number,
  workNmm: number,
  inBarsNmm: number,
};
const station: Fields<LoadedStation> = {
  name: text,
  bMm: number,
  angleDeg: number,
  angleLoadedDeg: number,
  spreadMm: number,
  spreadLoadedMm: number,
};
const shape: Fields<LoadedShape> = {
  stations: list(fields(station)),
  twistDeg: numberOrNull,
  twistLoadedDeg: numberOrNull,
  sagMm: numberOrNull,
  sagLoadedMm: numberOrNull,
  angleChangeDeg: about(number, 'largest change at a station, + wider under load'),
};

const result: Fields<GiveStudy> = {
  rigid: orNull(fields(figures)),
  flexible: orNull(fields(figures)),
  loadedShape: orNull(fields(shape)),
  parts: about(list(fields(part)), 'one part taken out at a time'),
  warmUp: fields({
    minutes: about(list(fields(moment)), 'from a cold start'),
    hours: about(list(fields(moment)), 'under load'),
  }),
  cover: list(fields(cover)),
  rideGive: list(fields(ride)),
  reading: about(list(text), 'three sentences from the numbers of this run'),
  assumptions: about(list(text), 'what is left out, then every assumed curve with its source'),
};

export const flexResultSchema: JsonSchema = fields(result);
