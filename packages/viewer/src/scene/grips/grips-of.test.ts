import { describe, expect, test } from 'vitest';
import type { BarView } from '../../contract.ts';
import { type Grip, gripsOf, pulled } from './grips-of.ts';

/** Three rows of three cells, 100 mm apart, at y and rising 10 mm at the tips. */
const bar = (y: number) =>
  ({
    rows: 3,
    columns: 3,
    positions: Float32Array.from(
      [0, 1, 2].flatMap((row) => [-9, 0, 9].flatMap((t) => [100 * row - 30, y + t, row === 1 ? 0 : 10])),
    ),
    bMm: Float32Array.from([0, 0, 0, 100, 100, 100, 200, 200, 200]),
  }) as BarView;

const bars = { left: bar(-90), right: bar(90) };
const length = { mm: 12, minMm: 0, maxMm: 30 };
const side = {
  rock: { ...length, range: { chordMm: 150, leastMm: 200, mostMm: 5000 }, lowPointMm: 90 },
  flareFront: length,
  flareRear: null,
};
const now = { stationXMm: 200, setPositionMm: -30, near: 'left' } as const;

describe('grips', () => {
  test('stand at the station, between the front tips, and on the near bar where its shape is', () => {
    const places = Object.fromEntries(gripsOf(bars, side, now).map(({ name, at }) => [name, at]));
    expect(places).toEqual({
      station: [200, 0, 150],
      set: [-30, 0, 10],
      rock: [70, -90, 0],
      flareFront: [-30, -90, 10],
    });
    expect(gripsOf(null, side, now).map(({ name }) => name)).toEqual(['station']);
    expect(gripsOf(bars, side, { ...now, near: 'right' }).find(({ name }) => name === 'rock')?.at[1]).toBe(90);
  });

  test('follow the pointer along their own direction only, in half millimetres, to their ends', () => {
    const grip: Grip = { name: 'set', at: [0, 0, 0], along: [1, 0, 0], mm: -30, minMm: -150, maxMm: 150 };
    const onPage = { x: 0, y: 0, perMm: [0.6, -0.8] as const };
    expect(pulled(grip, onPage, 6, -8)).toBe(-20);
    expect(pulled(grip, onPage, 8, 6)).toBe(-30);
    expect(pulled(grip, onPage, 0.2, 0)).toBe(-30);
    expect(pulled(grip, onPage, 600, -800)).toBe(150);
    expect(pulled(grip, { ...onPage, perMm: [1.2, -1.6] }, 6, -8)).toBe(-25);
  });
});
