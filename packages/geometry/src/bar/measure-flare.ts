import { fitArc } from './measure-arc.ts';
import { type Departure, findDeparture, growArc } from './measure-grow-arc.ts';
import type { LineHeight } from './measure-line.ts';
import type { BarSurface } from './measure-surface.ts';

/** One tip's flare; definitions by name in MEASURE_DEFINITIONS. mm */
export interface FlareMeasures {
  readonly flareLiftMm: number;
  readonly flareZoneMm: number;
  readonly flareZoneFromStartMm: number;
}

export interface Flares {
  readonly front: FlareMeasures;
  readonly rear: FlareMeasures;
}

/** Lift above which a station counts as flared, mm. */
export const FLARE_THRESHOLD_MM = 0.1;

const PROFILE_POINTS = 121;
/**
 * Flare of both tips on the bearing line. Where the flare is known it is read; otherwise the arc of the line's middle is grown
 * until the line leaves it, and continued to the tips.
 * @param height the bearing line with its flare, relief left out
 * @returns null where the middle of the line follows no arc, or a tip has no section
 */
export function measureFlares(surface: BarSurface, height: LineHeight, toleranceMm: number): Flares | null {
  const { known, fromMm, toMm } = surface;
  const all = Float64Array.from(
    { length: PROFILE_POINTS },
    (_, i) => fromMm + ((toMm - fromMm) * i) / (PROFILE_POINTS - 1),
  );
  const heightWithFlare = (b: number): number => height(b) + (known?.flareLiftMm(b) ?? 0);
  const b = all.filter((at) => Number.isFinite(height(at)));
  if (b.length < PROFILE_POINTS / 2) return null;
  const z = b.map(heightWithFlare);
  const arc = known === null ? growArc(b, z, toleranceMm) : knownArc(b, height, known.flareLiftMm);
  if (arc === null) return null;
  const front = findDeparture(b, z, arc, -1, FLARE_THRESHOLD_MM);
  const rear = findDeparture(b, z, arc, 1, FLARE_THRESHOLD_MM);
  if (!Number.isFinite(front.liftMm + rear.liftMm)) return null;
  return { front: fromTip(front, fromMm), rear: fromTip(rear, toMm) };
}

function knownArc(b: Float64Array, height: LineHeight, lift: LineHeight) {
  const fit = fitArc(b, b.map(height), 0, b.length - 1);
  const bare = b.map((at) => (lift(at) > 0 ? 0 : 1));
  const from = bare.indexOf(1);
  return fit === null || from < 0 ? null : { arc: fit.arc, from, to: bare.lastIndexOf(1), toleranceMm: 0 };
}

function fromTip({ liftMm, thresholdMm, startMm }: Departure, tipMm: number): FlareMeasures {
  return {
    flareLiftMm: liftMm,
    flareZoneMm: Math.abs(thresholdMm - tipMm),
    flareZoneFromStartMm: Math.abs(startMm - tipMm),
  };
}
