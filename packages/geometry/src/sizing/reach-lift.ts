import type { BackSurface, Lift } from '../back/index.ts';
import { alongBack, fallAt, hingedLift } from './measuring-error-lift.ts';

/** Another back of the same size beside a measured one. */
export interface BackChangeStep {
  /** Both sides steeper (+) or flatter (-) all along, degrees, turning about the bearing line. */
  readonly slopeDeg: number;
  /** More (+) or less (-) sag of the bearing line over the bar's bearing chord, mm: a parabola, the middle held. */
  readonly sagMm: number;
}

/** The chord that sag is counted over: where its middle lies behind the blade edge, and half its length. mm */
export interface Chord {
  readonly middleXMm: number;
  readonly halfMm: number;
}

/** Stations between which the tilt is smooth, as shares of the usable length. */
const SHARES = [0, 0.25, 0.5, 0.75, 1] as const;

/** What the changed back has over the measured one. Each side's own slope is turned, so tilts differ along the back. */
export function liftOfStep(back: BackSurface, { slopeDeg, sagMm }: BackChangeStep, chord: Chord): Lift {
  const k = sagMm / chord.halfMm ** 2;
  const heights = {
    at(x: number): [number, number, number] {
      const from = x - chord.middleXMm;
      return [k * from * from, 2 * k * from, 2 * k];
    },
  };
  return hingedLift({ heights, tilts: tiltOf(back, -1, slopeDeg) }, { heights, tilts: tiltOf(back, 1, slopeDeg) });
}

/** tan(slope + change) - tan(slope) along one side. */
function tiltOf(back: BackSurface, sign: 1 | -1, slopeDeg: number) {
  const change = (slopeDeg * Math.PI) / 180;
  const length = back.landmarks.lastRib[0];
  const values = SHARES.map((share) => {
    const fall = fallAt(back, sign, share * length);
    const known = Number.isNaN(fall) ? 0 : fall;
    return Math.tan(Math.atan(known) + change) - known;
  });
  return alongBack(back, SHARES, values);
}
