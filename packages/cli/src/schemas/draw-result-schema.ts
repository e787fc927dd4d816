import { about, fields, type JsonSchema, list, number, oneOf, text } from './json-schema.ts';

const dimensions = fields({
  tipLengthMm: number,
  rootThicknessMm: number,
  edgeThicknessMm: number,
  rootLowerMm: number,
  edgeLowerMm: number,
  barThicknessMm: number,
  liftMm: about(number, 'upright, of the tip edge over the unflared surface continued'),
  flareZoneMm: number,
  forkFootFromMm: number,
  forkFootToMm: number,
});

const material = fields({
  place: oneOf('lower', 'tip', 'bar'),
  name: text,
  temperatureC: number,
  hours: number,
  alongMPa: about(number, 'modulus along the bar at that warmth and time'),
  rangeMPa: about(list(number, 2), 'span of the material at 23 degrees C'),
  source: text,
});

export const drawResultSchema: JsonSchema = fields({
  sheet: oneOf('tip'),
  side: oneOf('left', 'right'),
  pattern: text,
  dimensions,
  materials: list(material, 3),
  written: text,
});
