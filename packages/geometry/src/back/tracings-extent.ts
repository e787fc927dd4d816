import { InputError } from '../numeric/index.ts';
import type { GivenLandmarks } from './scan-landmarks.ts';
import type { LengthwiseCurve } from './tracings-curves.ts';
import type { Loft } from './tracings-loft.ts';
import type { TracedStation } from './tracings-stations.ts';

/** Nothing of a horse's back lies further from its midline, mm; beyond it a number was mistyped. Our own rule, no source. */
const WIDEST_SIDE_MM = 1000;
const HIGHEST_SPAN_MM = 2000;
const LONGEST_MM = 4000;

/**
 * Refuses sections that no horse has: nets and charts grow with the area, so that one mistyped point could take all memory
 * and time.
 * @throws InputError 'out-of-range' naming the tracing
 */
export function refuseGiantStations(stations: readonly TracedStation[]): void {
  for (const station of stations) {
    const z = station.points.map((p) => p[1]);
    const span = z.reduce((a, b) => Math.max(a, b)) - z.reduce((a, b) => Math.min(a, b));
    const wide = Math.max(station.leftMm, station.rightMm);
    if (wide > WIDEST_SIDE_MM) {
      throw giant(station, `${wide.toFixed(0)} mm to one side`, `at most ${WIDEST_SIDE_MM} mm`);
    }
    if (span > HIGHEST_SPAN_MM) {
      throw giant(
        station,
        `${span.toFixed(0)} mm from its lowest point to its highest`,
        `at most ${HIGHEST_SPAN_MM} mm`,
      );
    }
  }
  const [first, last] = [stations[0], stations[stations.length - 1]];
  if (first === undefined || last === undefined || last.xMm - first.xMm <= LONGEST_MM) return;
  throw giant(last, `${(last.xMm - first.xMm).toFixed(0)} mm behind the first one`, `at most ${LONGEST_MM} mm`);
}

/**
 * Refuses sections and lengthwise curves that lie further apart in height than a horse is tall,.
 * @throws InputError 'out-of-range' naming the curve
 */
export function refuseFarHeights(stations: readonly TracedStation[], lengthwise: readonly LengthwiseCurve[]): void {
  const middle = stations[0]?.curve.at(0)[0] ?? 0;
  const curves = [
    ...stations.map((s) => ({ id: s.ids.join('+'), z: s.points.map((p) => p[1]) })),
    ...lengthwise.map((l) => ({ id: l.id, z: l.points.map((p) => p[2]) })),
  ];
  for (const { id, z } of curves) {
    const away = z.reduce((most, v) => Math.max(most, Math.abs(v - middle)), 0);
    if (away <= LONGEST_MM) continue;
    throw new InputError({
      code: 'out-of-range',
      field: `curves.${id}`,
      got: `${away.toExponential(1)} mm above or below the first station`,
      expected: `at most ${LONGEST_MM} mm`,
      remedy: 'Correct the height that was mistyped, the level mark, or the unit.',
    });
  }
}

/**
 * Refuses landmarks that lie so far off the tracings that they can't be on the same horse.
 * @param marked in the tracings' frame, mm
 * @throws InputError 'out-of-range' naming the landmark
 */
export function refuseFarLandmarks(marked: GivenLandmarks, loft: Loft): void {
  for (const [name, [x, y]] of Object.entries(marked)) {
    const beyond = Math.max(loft.fromXMm - x, x - loft.toXMm, Math.abs(y));
    if (beyond <= LONGEST_MM) continue;
    throw new InputError({
      code: 'out-of-range',
      field: `landmarks.${name}`,
      got: `${beyond.toExponential(1)} mm off the tracings`,
      expected: `a point within ${LONGEST_MM} mm of them`,
      remedy: 'Check this landmark, its unit and the axes.',
    });
  }
}

function giant(station: TracedStation, got: string, expected: string): InputError {
  return new InputError({
    code: 'out-of-range',
    field: `curves.${station.ids.join('+')}`,
    got,
    expected,
    remedy: 'Correct the point or the station that was mistyped, or the unit.',
  });
}
