import { describe, expect, test } from 'vitest';
import {
  angleFigure,
  areaFigure,
  type FigureParts,
  figureText,
  forceFigure,
  gapFigure,
  lengthFigure,
  METRIC,
  massFigure,
  pressureFigure,
  SHOP,
  shareFigure,
} from './format.ts';

const say = (figure: FigureParts): string => figureText(figure).replace('\u2009', ' ');

describe('figures', () => {
  test('lengths: decimals in mm, sixteenths as fractions in inches', () => {
    expect(say(lengthFigure(560.04, METRIC))).toBe('560.0 mm');
    expect(lengthFigure(560, SHOP)).toEqual({ sign: '', number: '22', fraction: [1, 16], unit: 'in' });
    expect(lengthFigure(7.9375, SHOP)).toEqual({ sign: '', number: '', fraction: [5, 16], unit: 'in' });
    expect(say(lengthFigure(25.4, SHOP))).toBe('1 in');
    expect(say(lengthFigure(0.2, SHOP))).toBe('0 in');
  });

  test('a true minus, a plus only on differences, and no sign on nothing', () => {
    expect(say(lengthFigure(-30, METRIC, { decimals: 0 }))).toBe('−30 mm');
    expect(say(lengthFigure(-30, SHOP))).toBe('−1 3/16 in');
    expect(say(gapFigure(4.2, METRIC, { signed: true }))).toBe('+4.2 mm');
    expect(say(gapFigure(-0.04, METRIC, { signed: true }))).toBe('0.0 mm');
    expect(say(angleFigure(-2.96, true))).toBe('−3.0°');
  });

  test('exact conversions: inch, pound and psi', () => {
    expect(say(gapFigure(10.16, SHOP))).toBe('0.40 in');
    expect(say(pressureFigure(13.789514586, SHOP))).toBe('2.00 psi');
    expect(say(massFigure(45.359237, SHOP))).toBe('100 lb');
    expect(say(forceFigure(444.82216152605, SHOP))).toBe('100 lbf');
    expect(say(areaFigure(645.16, SHOP))).toBe('100 in²');
    expect(say(pressureFigure(8.64, METRIC))).toBe('8.6 kPa');
  });

  test('what is not known is said in words, never as a number', () => {
    for (const figure of [
      lengthFigure(null, SHOP),
      gapFigure(Number.NaN, METRIC),
      shareFigure(null),
      angleFigure(null),
    ])
      expect(say(figure)).toBe('no data');
  });
});
