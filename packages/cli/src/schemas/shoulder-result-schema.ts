import type { Blades, Stride, TipSolution } from '@barwright/geometry';
import type { ShoulderResult, ShoulderRun, WorstMoments } from '../commands/shoulder.ts';
import { numberOrNull } from './envelope-schema.ts';
import { statusSchema } from './fit-result-schema.ts';
import { about, fields, type JsonSchema, list, number, oneOf, orNull } from './json-schema.ts';
import { phaseSchema, tipOptionSchema, tipOverSchema } from './stride-schema.ts';

type Fields<Of> = Record<keyof Of, JsonSchema>;

const side = oneOf('left', 'right');

const worst: Fields<WorstMoments> = {
  leastGapMm: about(numberOrNull, 'of both tips over the stride; + clear, - squeeze'),
  leastGapPhase: numberOrNull,
  leastGapSide: side,
  leastGapStandingMm: about(numberOrNull, 'of the same tip, standing'),
  highestPressureKPa: number,
  highestPressurePhase: number,
  highestPressureSide: side,
  highestPressureStandingKPa: number,
};

const run: Fields<ShoulderRun> = {
  status: about(statusSchema, 'settled, or what the first moment that did not settle came to'),
  setPositionMm: number,
  standing: phaseSchema,
  phases: list(phaseSchema),
  tips: list(tipOverSchema, 2),
  worst: fields(worst),
};

const blades: Fields<Blades> = {
  heightLeftMm: number,
  heightRightMm: number,
  swingMm: number,
  assumed: about(list(oneOf('height', 'swing')), "what nobody measured: an average horse's"),
};

const stride: Fields<Stride> = {
  swingLeftMm: number,
  swingRightMm: number,
  riseMm: number,
  rightAfterLeft: about(number, 'share of the stride by which the right leg follows the left'),
  phases: number,
};

const clear: Fields<TipSolution> = {
  wantedMm: number,
  present: tipOptionSchema,
  options: list(
    fields({ zoneMm: number, option: about(orNull(tipOptionSchema), 'null where no lift reaches what is wanted') }),
  ),
};

const result: Fields<ShoulderResult> = {
  ...run,
  blades: fields(blades),
  stride: fields(stride),
  crept: orNull(fields({ ...run, creepMm: about(number, '+ forward') })),
  clear: orNull(fields(clear)),
};

export const shoulderResultSchema: JsonSchema = fields(result);
