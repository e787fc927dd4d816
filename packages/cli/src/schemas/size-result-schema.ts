import type { SizeCapacity, SizeCase, SizeFinding, SizeResult } from '@barwright/geometry';
import type { SizeCommandResult } from '../commands/size.ts';
import { solvedSchema, statusSchema } from './fit-result-schema.ts';
import { about, boolean, fields, type JsonSchema, list, number, oneOf, orNull, text } from './json-schema.ts';

type Fields<Of> = Record<keyof Of, JsonSchema>;

const finding: Fields<SizeFinding> = {
  code: text,
  side: oneOf('left', 'right', 'both'),
  sizeMm: number,
  ratio: about(number, 'size over its rule: 1 just meets it'),
};

const one: Fields<SizeCase> = {
  name: text,
  status: statusSchema,
  meanPressureKPa: number,
  p95PressureKPa: number,
  peakPressureKPa: number,
  findings: list(fields(finding)),
};

const capacity: Fields<SizeCapacity> = {
  ruleOfThumbN: about(number, 'tree bearing on this surface, not permission for a rider of that weight'),
  withPad: solvedSchema,
  withoutPad: about(orNull(solvedSchema), 'null where the shelf has no pad'),
  padLabel: text,
};

const row: Fields<SizeCommandResult['rows'][number]> = {
  seat: text,
  seatMm: number,
  width: text,
  tip: text,
  bars: orNull(oneOf('rigid', 'flexible')),
  barLengthMm: number,
  roomMm: about(number, 'longest bar whose bearing ends at the last rib, in this set position'),
  cases: list(fields(one)),
  worst: about(orNull(fields({ ...finding, inCase: text })), 'furthest over its rule, of all cases'),
  loadN: about(number, 'rider, gear and saddle, still'),
  capacity: fields(capacity),
  fitted: fields({ slopesDeg: orNull(list(number)), rockRadiusMm: orNull(number) }),
  isInSeatRange: about(orNull(boolean), 'null where it was stopped'),
  reason: about(orNull(text), 'why this tree was not taken; null for the one that was, and where it was stopped'),
};

const range: Fields<SizeResult['seatRange']> = {
  fromIn: number,
  toIn: number,
  isBeyondTable: boolean,
  source: text,
};

const held: Fields<SizeCommandResult['heldPressure']> = {
  curve: list(fields({ hours: number, pressureKPa: number })),
  caution: text,
};

const result: Fields<SizeCommandResult> = {
  status: about(oneOf('complete', 'stopped'), 'stopped: ended before the whole shelf was seen; nothing is chosen'),
  rider: fields({ name: text, massKg: number, gearKg: number, riding: text }),
  shelf: fields({ name: text, trees: number }),
  samples: number,
  seatRange: orNull(fields(range)),
  rows: about(list(fields(row)), 'by seat, width and tip, whatever the order of the shelf'),
  closest: about(orNull(number), 'index in rows; null when nothing on this shelf is near this back'),
  needed: about(list(text), 'what back and rider would need, where nothing is near'),
  heldPressure: fields(held),
};

export const sizeResultSchema: JsonSchema = fields(result);
