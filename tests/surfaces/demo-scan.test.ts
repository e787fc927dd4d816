import { readFileSync } from 'node:fs';
import {
  type BackSurface,
  buildBack,
  buildTree,
  contactFigures,
  readMesh,
  resolvePattern,
  SETUP_DEFAULTS,
  seatTree,
} from '@barwright/geometry';
import { describe, expect, it } from 'vitest';
import { exampleBack, examplePattern } from '../support/examples.ts';

/** The scan-like mesh of Tuesday: 5-10 mm spacing, 1 mm noise, a hole and a tuft; other unit and axes (examples/). */
const scanBytes = readFileSync(new URL('../../examples/tuesday-scan.ply', import.meta.url));
const scan = buildBack(exampleBack('tuesday-scan'), { mesh: readMesh(scanBytes, 'tuesday-scan.ply').mesh });
const sections = buildBack(exampleBack('tuesday'));

const seat = (back: BackSurface, stem: string) =>
  seatTree(buildTree(resolvePattern(examplePattern(stem))), back, SETUP_DEFAULTS);

describe.each(['wren', 'post', 'rail'])('%s on a noisy scan of Tuesday', (stem) => {
  it('balances, says that it bears at the edge of a hole, and reads as on the clean horse', () => {
    const rough = seat(scan, stem);
    const clean = seat(sections, stem);
    expect(rough.seat.relativeResidual).toBeLessThan(1e-6);
    expect(rough.status).toBe('off the data');
    const a = contactFigures(rough);
    const b = contactFigures(clean);
    // 1 mm of noise and 15 mm of smoothing: a few per cent in area and pressure, tenths of a degree in pose.
    expect(Math.abs(a.areaCm2 / b.areaCm2 - 1)).toBeLessThan(0.05);
    expect(Math.abs(a.meanPressureKPa / b.meanPressureKPa - 1)).toBeLessThan(0.05);
    expect(Math.abs(rough.seat.pose.pitchRad - clean.seat.pose.pitchRad)).toBeLessThan(0.01);
  });
});

it('a coarse scan with 1 mm of noise is smoothed, and the smoothing is printed', () => {
  expect(scan.fastAccuracy.smoothingMm).toBeGreaterThan(5);
  expect(scan.fastAccuracy.smoothingMm).toBeLessThanOrEqual(15);
  expect(scan.fastAccuracy.boundMm).toBeLessThan(4);
});
