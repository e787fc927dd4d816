import { SHEET_CORNERS, SHEET_PAPERS } from '@barwright/geometry';
import { fields, type JsonSchema, list, number, oneOf, text } from './json-schema.ts';

const point = list(number, 2);

const mark = fields({ corner: oneOf(...SHEET_CORNERS), code: number, cornersMm: list(point, 4) });
const disc = fields({ edge: oneOf('top', 'right', 'bottom', 'left'), centreMm: point, radiusMm: number });

const tile = fields({
  paper: oneOf(...SHEET_PAPERS),
  tiles: number,
  tile: number,
  widthMm: number,
  heightMm: number,
  leftTopMm: point,
  marks: list(mark, 4),
  discs: list(disc, 4),
  acrossMm: number,
  downMm: number,
});

export const sheetResultSchema: JsonSchema = fields({
  paper: oneOf(...SHEET_PAPERS),
  tiles: number,
  widthMm: number,
  sheets: list(tile),
  written: list(text),
});
