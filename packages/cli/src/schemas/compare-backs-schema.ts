import type { RegionChange } from '@barwright/geometry';
import type { ChangesResult, ComparedBack } from '../commands/compare-backs.ts';
import { numberOrNull } from './envelope-schema.ts';
import { about, boolean, fields, type JsonSchema, list, number, oneOf, orNull, text } from './json-schema.ts';

type Fields<Of> = Record<keyof Of, JsonSchema>;

const back: Fields<ComparedBack> = {
  name: text,
  kind: oneOf('sections', 'scan', 'tracings'),
  on: text,
  by: text,
  uncertaintyMm: number,
  uncertaintyDeg: number,
  owner: about(orNull(text), 'null unless asked for'),
};

const region: Fields<RegionChange> = {
  side: oneOf('left', 'right'),
  third: oneOf('front', 'middle', 'rear'),
  fromXMm: about(number, 'mm behind the blade edge'),
  toXMm: number,
  bestFitMm: about(numberOrNull, 'mean change, + fuller, laid together where they agree best'),
  landmarksMm: about(numberOrNull, 'mean change, + fuller, laid together by their landmarks'),
  limitMm: about(numberOrNull, "less than this can't be told from measuring error"),
  coverage: number,
  shownShare: about(number, 'of the grid of this sixth, beyond its limit both ways'),
  reading: oneOf(
    'fuller',
    'lower',
    'changed in part',
    'within measuring error',
    'depends on how they are laid together',
    'no data',
  ),
};

const result: Fields<ChangesResult> = {
  before: fields(back),
  after: fields(back),
  align: oneOf('best fit', 'landmarks'),
  motion: fields({
    backwardMm: number,
    rightMm: number,
    upMm: number,
    pitchDeg: number,
    rollDeg: number,
    residualMm: numberOrNull,
    atBound: boolean,
  }),
  regions: list(fields(region), 6),
  comparedShare: number,
  shownShare: about(number, 'of the compared grid, laid together as align says'),
  largest: orNull(fields({ xMm: number, yMm: number, differenceMm: number })),
  doubts: about(list(text), 'why the two may not be one horse'),
  sentences: fields({ bestFit: list(text), landmarks: list(text) }),
};

export const changesResultSchema: JsonSchema = fields(result);
