import { describe, expect, test } from 'vitest';
import { figureText, METRIC, SHOP } from '../look/format.ts';
import {
  deltaFigure,
  inputText,
  isExpression,
  placeInRange,
  stepped,
  valueFigure,
  withPageUnit,
} from './value-text.ts';

describe('values on the card', () => {
  test('metric and shop figures of the same stored length', () => {
    expect(inputText(560, 'length', METRIC)).toBe('560');
    expect(inputText(393.7, 'length', METRIC)).toBe('393.7');
    expect(inputText(393.7, 'length', SHOP)).toBe('15 1/2');
    expect(figureText(valueFigure(560, 'length', SHOP))).toBe('22 1/16\u2009in');
    expect(inputText('flat', 'radius', SHOP)).toBe('flat');
    expect(inputText(-30, 'length', METRIC)).toBe('-30');
  });

  test('changes carry a sign and the shop reads them in sixteenths', () => {
    expect(figureText(deltaFigure(130, 'length', METRIC))).toBe('+130\u2009mm');
    expect(figureText(deltaFigure(-3.175, 'length', SHOP))).toBe('−1/8\u2009in');
    expect(figureText(deltaFigure(0.5, 'length', SHOP))).toBe('+0.02\u2009in');
    expect(figureText(deltaFigure(-2, 'angle', SHOP))).toBe('−2°');
  });

  test('expressions are told from shop numbers', () => {
    for (const text of ['seatLength + 6.5 in', '2*300 mm', 'forkBack']) expect(isExpression(text)).toBe(true);
    for (const text of ['22 1/4', '13 1/4 in', '560', 'flat', '5/16']) expect(isExpression(text)).toBe(false);
    expect(isExpression(560)).toBe(false);
    expect(isExpression(undefined)).toBe(false);
  });

  test('a bare number means the unit of the page; a written unit stays', () => {
    expect(withPageUnit('22', 'length', SHOP)).toBe('22 in');
    expect(withPageUnit('22 1/4', 'length', SHOP)).toBe('22 1/4');
    expect(withPageUnit('560 mm', 'length', SHOP)).toBe('560 mm');
    expect(withPageUnit('22', 'length', METRIC)).toBe('22');
    expect(withPageUnit('36', 'angle', SHOP)).toBe('36');
    expect(withPageUnit('seatLength + 6.5 in', 'length', SHOP)).toBe('seatLength + 6.5 in');
  });

  test('steps land on whole steps and stay in range', () => {
    expect(stepped(500.4, 1, 'length', METRIC, 300, 900)).toBe(501);
    expect(stepped(899.8, 4, 'length', METRIC, 300, 900)).toBe(900);
    expect(stepped(560, 1, 'length', SHOP, 300, 900) / 25.4).toBeCloseTo(22 + 1 / 8, 9);
    expect(stepped(36, -1, 'angle', METRIC, 0, 75)).toBe(35.5);
  });

  test('place in range: radii by curvature', () => {
    expect(placeInRange(600, 'length', 300, 900)).toBeCloseTo(0.5, 12);
    expect(placeInRange('flat', 'radius', 400, 20_000)).toBe(1);
    expect(placeInRange(400, 'radius', 400, 20_000)).toBe(0);
    expect(placeInRange(800, 'radius', 400, 20_000)).toBeCloseTo(0.5, 12);
  });
});
