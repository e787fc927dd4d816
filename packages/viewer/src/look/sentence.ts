import { MM_PER_INCH } from '@barwright/geometry';
import {
  decimalFigure,
  type FigureParts,
  figureText,
  forceFigure,
  gapFigure,
  lengthFigure,
  massFigure,
  pressureFigure,
  type Units,
} from './format.ts';

const NUMBER = '[+\u2212-]?\\d+(?:\\.\\d+)?';
/** What may stand between numbers that share the unit after the last one. */
const BETWEEN = ' to | and | or | against |, | / |\u2013|-';
const MEASURE = new RegExp(
  `(?<![\\w.+\u2212\u2013-]|\\d,)${NUMBER}(?:(?:${BETWEEN})${NUMBER})*[ \u2009](?:mm|kPa|kg|N|cm2|cm²)(?![\\w/²])`,
  'g',
);
const ONE = /(?<![\w.])[+\u2212-]?\d+(?:\.\d+)?/g;
/** Below this a sixteenth of an inch says too little, mm. */
const FINE_MM = 20;

/** One number in the units of the page, as its figures are written; null: it is so already. */
function figureOf(value: number, unit: string, units: Units): FigureParts | null {
  if (unit === 'mm' || unit.startsWith('cm')) {
    if (units.length === 'mm') return null;
    if (unit !== 'mm') return decimalFigure((value * 100) / MM_PER_INCH ** 2, 'in²', 1);
    return Math.abs(value) < FINE_MM ? gapFigure(value, units) : lengthFigure(value, units);
  }
  if (unit === 'kPa') return units.pressure === 'kPa' ? null : pressureFigure(value, units);
  if (units.mass === 'kg') return null;
  return unit === 'kg' ? massFigure(value, units) : forceFigure(value, units);
}

/**
 * A sentence of the geometry, which is metric, with its measures in the units of the page: "15 to 60 mm" reads
 * "0.59 to 2 3/8 in". Numbers without a unit, degrees, per cent and stiffnesses stay as they are.
 */
export function sentenceIn(sentence: string, units: Units): string {
  return sentence.replace(MEASURE, (measure) => {
    const unit = /[a-z]+[2²]?$/i.exec(measure)![0];
    const numbers = measure.slice(0, -unit.length - 1);
    let shown = unit;
    const converted = numbers.replace(ONE, (number) => {
      const figure = figureOf(Number(number.replace('\u2212', '-')), unit, units);
      if (figure === null) return number;
      shown = figure.unit;
      return (number.startsWith('+') ? '+' : '') + figureText({ ...figure, unit: '' });
    });
    return shown === unit ? measure : `${converted} ${shown}`;
  });
}

/** A bare number of a refusal has the unit of what was expected instead: "10 to 300 kg" and 4082.3 read 9000 lb. */
export function foundIn(got: string, expected: string, units: Units): string {
  const unit = /\d (mm|kPa|kg|N)(?![\w/])/.exec(expected)?.[1];
  return unit !== undefined && /^-?\d+(\.\d+)?$/.test(got) ? sentenceIn(`${got} ${unit}`, units) : got;
}
