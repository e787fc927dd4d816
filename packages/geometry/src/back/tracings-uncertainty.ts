import { cubicSpline } from '../numeric/index.ts';
import type { TracedStation } from './tracings-stations.ts';

export interface StationGap {
  readonly fromMm: number;
  readonly toMm: number;
  /** How far the surface may leave the loft half-way, mm, beside the measured uncertainty. */
  readonly halfWayMm: number;
}

/** Half-way between stations a back is unknown by this share of the gap at least: 1 mm for 50 mm. Our own rule, no source. */
const LEAST_SHARE = 0.02;
const STEP_Y_MM = 20;
const TO_Y_MM = 220;

/**
 * How far the surface may leave the loft between stations: each inner station is left out in turn and predicted from the
 * others, and half-way through the gaps beside it the loft is trusted no better than that (wider gaps in proportion).
 * Ends take their neighbour's.
 */
export function gapsBetween(stations: readonly TracedStation[]): StationGap[] {
  const n = stations.length;
  const missed = stations.map((_, i) => (i === 0 || i === n - 1 ? 0 : missedPerMm(stations, i)));
  missed[0] = missed[1] ?? 0;
  missed[n - 1] = missed[n - 2] ?? 0;
  return stations.slice(1).map((station, i) => {
    const fromMm = stations[i]!.xMm;
    return {
      fromMm,
      toMm: station.xMm,
      halfWayMm: (station.xMm - fromMm) * Math.max(LEAST_SHARE, missed[i]!, missed[i + 1]!),
    };
  });
}

/**
 * Measured uncertainty and what the distance s to the nearer station adds, root of the sum of squares; the addition rises
 * as s (2 - s), s in half gaps, for a surface may leave a station at a wrong slope. NaN beyond the stations. At right
 * angles to the surface, mm.
 */
export function uncertaintyIn(gaps: readonly StationGap[], measuredMm: number, xMm: number): number {
  const gap = gaps.find((g) => xMm >= g.fromMm && xMm <= g.toMm);
  if (gap === undefined) return Number.NaN;
  const s = (2 * Math.min(xMm - gap.fromMm, gap.toMm - xMm)) / (gap.toMm - gap.fromMm);
  return Math.hypot(measuredMm, gap.halfWayMm * s * (2 - s));
}

function missedPerMm(stations: readonly TracedStation[], i: number): number {
  const own = stations[i]!;
  const others = stations.filter((_, k) => k !== i);
  const near = Math.min(own.xMm - stations[i - 1]!.xMm, stations[i + 1]!.xMm - own.xMm);
  const x = others.map((s) => s.xMm);
  let worst = 0;
  for (let y = -TO_Y_MM; y <= TO_Y_MM; y += STEP_Y_MM) {
    const reach = (s: TracedStation): number => (y < 0 ? s.leftMm : s.rightMm);
    if ([own, stations[i - 1]!, stations[i + 1]!].some((s) => reach(s) < Math.abs(y))) continue;
    const through = cubicSpline(
      x,
      others.map((s) => s.curve.at(y)[0]),
    );
    const [z, slope] = own.curve.at(y);
    worst = Math.max(worst, Math.abs(through.at(own.xMm)[0] - z) / Math.sqrt(1 + slope * slope));
  }
  return worst / near;
}
