import { InputError } from '../numeric/index.ts';

/** What a length alone leaves open, for a section this wide seen from this far. */
const EXAMPLE = { tiltDeg: 20, widthMm: 480, distanceMm: 1000, slopeDeg: 40 };

/**
 * One known length fixes a scale, not the tilt of the paper, so no tracing can be read by it: always refused, with what
 * a tilt would do. Closed form of a pinhole camera, its axis through the middle of a paper turned about the upright.
 * @throws InputError 'missing', always
 */
export function paperFromLength(lengthMm: number): never {
  const { tiltDeg, widthMm, distanceMm } = EXAMPLE;
  const error = lengthAloneError(tiltDeg, widthMm, distanceMm, EXAMPLE.slopeDeg);
  throw new InputError({
    code: 'missing',
    field: 'corners',
    got: `one known length (${lengthMm} mm)`,
    expected:
      `four known points: a length fixes the scale, not the tilt of the paper. Tilted by ${tiltDeg} degrees and seen from ` +
      `${distanceMm / 1000} m, a section ${widthMm} mm wide would read ${error.shortMm.toFixed(0)} mm too narrow, one half ` +
      `${error.halvesMm.toFixed(0)} mm wider than the other, and a slope of ${EXAMPLE.slopeDeg} degrees ${error.slopeDeg.toFixed(1)} degrees too steep`,
    remedy: 'Trace on a printed sheet (`barwright sheet`), or lay a rectangle of known sides beside the tracing',
  });
}

/**
 * Error of reading a photo by one upright length in the middle of the paper, when the paper is turned by tilt about that
 * upright: mm that the width reads short, mm that the halves differ, degrees that a slope near the middle reads steep.
 */
export function lengthAloneError(tiltDeg: number, widthMm: number, distanceMm: number, slopeDeg: number) {
  const tilt = (tiltDeg * Math.PI) / 180;
  const seen = (x: number): number => (x * Math.cos(tilt) * distanceMm) / (distanceMm + x * Math.sin(tilt));
  const [left, right] = [-seen(-widthMm / 2), seen(widthMm / 2)];
  const slope = (slopeDeg * Math.PI) / 180;
  return {
    shortMm: widthMm - left - right,
    halvesMm: Math.abs(left - right),
    slopeDeg: (Math.atan(Math.tan(slope) / Math.cos(tilt)) - slope) * (180 / Math.PI),
  };
}
