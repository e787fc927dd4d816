import { expect, test } from 'vitest';
import { cleanMesh } from './clean-mesh.ts';
import { hearingPhases, tellPhase, type WorkPhase } from './phase-listener.ts';

const SQUARE = {
  positions: Float64Array.of(0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0),
  triangles: Uint32Array.of(0, 1, 2, 0, 2, 3),
};

test('cleaning says how far it is, from nothing to all of it, and gives the same with and without a listener', () => {
  const heard: [WorkPhase, number][] = [];
  const cleaned = hearingPhases(
    (phase, share) => heard.push([phase, share]),
    () => cleanMesh(SQUARE),
  );
  const shares = heard.map(([, share]) => share);
  expect(heard.every(([phase]) => phase === 'cleaning')).toBe(true);
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect(shares[0]).toBe(0);
  expect(shares.at(-1)).toBe(1);
  expect(cleaned).toEqual(cleanMesh(SQUARE));
});

test('the innermost listener hears; afterwards, even after an error, the one before hears again', () => {
  const outer: number[] = [];
  const inner: number[] = [];
  hearingPhases(
    (_, share) => outer.push(share),
    () => {
      tellPhase('shaping', 0.1);
      expect(() =>
        hearingPhases(
          (_, share) => inner.push(share),
          () => {
            tellPhase('shaping', 0.2);
            throw new RangeError('stop');
          },
        ),
      ).toThrow(RangeError);
      tellPhase('shaping', 0.3);
    },
  );
  tellPhase('shaping', 0.4);
  expect([outer, inner]).toEqual([[0.1, 0.3], [0.2]]);
});
