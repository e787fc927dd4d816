import { FINDING_WORDS, type Reach } from '@barwright/geometry';
import type { ReachPlace, ReachResult } from '../commands/reach.ts';
import { numberOrNull } from './envelope-schema.ts';
import { about, fields, type JsonSchema, list, number, oneOf, orNull, text } from './json-schema.ts';

type Fields<Of> = Record<keyof Of, JsonSchema>;

const code = orNull(oneOf(...Object.keys(FINDING_WORDS)));

const place: Fields<ReachPlace> = {
  status: oneOf('settled', 'no contact', 'off the data', 'iteration limit'),
  code: about(
    code,
    'the finding furthest over its rule, or nearest to it; null where none comes within half of its rule',
  ),
  ratio: about(
    numberOrNull,
    'size over rule: above 1 it is a finding, 0.5 stands for that much or less; null without result',
  ),
};

const limit = fields({ at: number, code: about(code, 'what comes there; null where the map ends first') });
const limits = fields({ slopeDeg: list(limit, 2), sagMm: list(limit, 2), positionMm: list(limit, 2) });

const error: Fields<Reach['error']> = {
  confidence: number,
  draws: number,
  seed: number,
  slopeSdDeg: number,
  sagSdMm: number,
  share: about(numberOrNull, 'of the drawn horses, those that the map has no finding for, by slope and curve only'),
};

const result: Fields<ReachResult> = {
  pattern: text,
  back: text,
  slopesDeg: about(list(number), 'change of slope of both sides, + steeper back'),
  sagsMm: about(list(number), 'change of sag of the bearing line over the bearing chord, + more curved back'),
  here: about(fields(place), 'the back as measured'),
  nodes: about(list(fields({ slopeDeg: number, sagMm: number, ...place })), 'rows by sag, along a row by slope'),
  positionsMm: list(number),
  positions: about(list(fields({ stepMm: number, ...place })), 'on the back as measured, + further back'),
  setPositionMm: number,
  setPositionBandMm: number,
  origin: fields({
    chord: fields({ middleXMm: number, halfMm: number }),
    slopeDeg: about(numberOrNull, 'mean of both sides under the chord'),
    sagMm: numberOrNull,
  }),
  radiusMm: about(numberOrNull, 'of the measured back over the chord'),
  error: fields(error),
  limits: about(orNull(limits), 'one direction at a time, lower and upper; null where the measured back has a finding'),
  nearest: orNull(fields({ slopeDeg: number, sagMm: number })),
  least: orNull(fields({ slopeDeg: number, sagMm: number, ratio: number, code })),
  freeShare: about(number, "of the map's nodes, those without findings"),
  rigid: about(
    orNull(
      fields({
        freeShare: number,
        meanChange: about(numberOrNull, 'ratio here less ratio with rigid bars'),
        nodes: list(fields(place)),
      }),
    ),
    'the same map with rigid bars; null where these are rigid',
  ),
  sentences: list(text),
};

export const reachResultSchema: JsonSchema = fields(result);
