import { KG_PER_POUND, type SolvedCapacity, STANDARD_GRAVITY } from '@barwright/geometry';
import { decimalFigure, type FigureParts, type Units } from '../../look/format.ts';
import { SIZING_TEXTS } from '../../look/texts/sizing.ts';

/** A load as the mass that weighs it, in the page's unit or the one asked for. */
export function massOfLoad(newtons: number | null, { mass }: Pick<Units, 'mass'>): FigureParts {
  const kg = newtons === null ? null : newtons / STANDARD_GRAVITY;
  return mass === 'kg' ? decimalFigure(kg, 'kg', 0) : decimalFigure(kg === null ? null : kg / KG_PER_POUND, 'lb', 0);
}

const T = SIZING_TEXTS.bearing;

export const limitWords = ({ firstReached }: SolvedCapacity): string =>
  firstReached === null ? T.noLimit : T.limits[firstReached];
