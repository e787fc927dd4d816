import { describe, expect, test } from 'vitest';
import type { CutView } from '../contract.ts';
import { cutPath, cutWindow, missingStretches, neighbourStation, raisedLine } from './cut-geometry.ts';

const cut: CutView = {
  xMm: 100,
  back: Float32Array.from([-200, -80, -100, -20, 0, 30, 100, -20, 200, Number.NaN]),
  left: null,
  right: null,
};

describe('station cut', () => {
  test('true scale: the same pixels per mm both ways, all within the drawing', () => {
    const window = cutWindow(cut, 600, 300, 10)!;
    const dx = window.toX(101) - window.toX(100);
    const dz = window.toY(0) - window.toY(1);
    expect(dx).toBeCloseTo(dz, 9);
    expect(window.toX(-200)).toBeGreaterThanOrEqual(10 - 1e-6);
    expect(window.toY(30)).toBeGreaterThanOrEqual(10 - 1e-6);
    expect(window.toY(-80)).toBeLessThanOrEqual(290 + 1e-6);
  });

  test('nothing to draw is said, not drawn', () => {
    expect(cutWindow({ ...cut, back: Float32Array.from([0, Number.NaN]) }, 600, 300, 10)).toBe(null);
  });

  test('lines break where there is no data, and the missing stretch is known', () => {
    const window = cutWindow(cut, 600, 300, 10)!;
    expect(cutPath(cut.back, window).match(/[ML]/g)).toEqual(['M', 'L', 'L', 'L']);
    expect(missingStretches(cut.back)).toEqual([[200, 200]]);
    expect(missingStretches(Float32Array.from([0, Number.NaN, 4, 1, 8, Number.NaN, 12, 2]))).toEqual([
      [0, 4],
      [8, 12],
    ]);
  });

  test('layers end at their thickness from the back: a circle stays a circle of larger radius', () => {
    const circle = Float32Array.from(
      Array.from({ length: 61 }, (_, i) => 0.6 + (i * (Math.PI - 1.2)) / 60).flatMap((a) => [
        -300 * Math.cos(a),
        300 * Math.sin(a),
      ]),
    );
    const raised = raisedLine(circle, 20);
    for (let i = 2; i < raised.length - 2; i += 2) expect(Math.hypot(raised[i]!, raised[i + 1]!)).toBeCloseTo(320, 2);
    expect(raisedLine(cut.back, 20)[9]).toBeNaN();
  });

  test('previous and next station', () => {
    expect(neighbourStation([70, 220, 370], 100, 1)).toBe(220);
    expect(neighbourStation([70, 220, 370], 100, -1)).toBe(70);
    expect(neighbourStation([70, 220, 370], 220, 1)).toBe(370);
    expect(neighbourStation([70, 220, 370], 400, 1)).toBe(null);
  });
});
