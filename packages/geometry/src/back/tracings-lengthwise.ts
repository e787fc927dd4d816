import { type Curve1, cubicSpline, type Jet1 } from '../numeric/index.ts';
import type { Vec3 } from './back-surface.ts';
import type { LengthwiseCurve } from './tracings-curves.ts';
import { type LoftLift, loftStations } from './tracings-loft.ts';
import type { AnswerSheet } from './tracings-questions.ts';
import { liftStation, type TracedStation } from './tracings-stations.ts';

/** Heights that differ by less are taken as the hand's repeatability, mm (TRADE 2.1, common practice, no source). */
const DISAGREE_MM = 3;
const SAMPLE_MM = 12.5;
/** Samples of one curve at most: the spline through them is solved densely. */
const MOST_SAMPLES = 300;

/** Asks about sections that lie higher or lower than a lengthwise curve passing them; moves them as answered. */
export function settleHeights(
  stations: readonly TracedStation[],
  curves: readonly LengthwiseCurve[],
  sheet: AnswerSheet,
): TracedStation[] {
  return stations.flatMap((station) => {
    for (const curve of curves) {
      const on = pointAt(curve, station.xMm);
      if (on === null || on[1] < -station.leftMm || on[1] > station.rightMm) continue;
      const above = on[2] - station.curve.at(on[1])[0];
      if (!(Math.abs(above) > DISAGREE_MM)) continue;
      const answer = sheet.ask({
        id: `heights:${station.ids.join('+')}:${curve.id}`,
        question: `Which height holds at x = ${station.xMm.toFixed(0)} mm, "${station.ids.join('" and "')}" or "${curve.id}"?`,
        choices: [
          { id: 'cross', meaning: 'the cross-section; the lengthwise curve is bent to it' },
          { id: 'lengthwise', meaning: `the lengthwise curve; the section is moved by ${above.toFixed(1)} mm` },
          { id: 'leave-out', meaning: 'build the back without this cross-section' },
        ],
        evidence: `"${curve.id}" passes ${Math.abs(above).toFixed(1)} mm ${above > 0 ? 'above' : 'below'} the section at x = ${station.xMm.toFixed(0)} mm`,
      });
      if (answer === 'leave-out') return [];
      if (answer === 'lengthwise') return [liftStation(station, above)];
    }
    return [station];
  });
}

/**
 * What lengthwise curves add between the stations. At the stations the sections hold: what is left of a disagreement
 * there fades linearly over the gap. One curve lifts the whole width, several share it by distance from the midline.
 */
export function liftsAlong(stations: readonly TracedStation[], curves: readonly LengthwiseCurve[]): LoftLift[] {
  const loft = loftStations(stations);
  const usable = curves.flatMap((curve) => {
    const lift = liftOf(stations, curve, (x, y) => (loft.contains(x, y) ? loft.row(x)(y) : Number.NaN));
    return lift === null ? [] : [{ lift, yMm: curve.points.reduce((sum, p) => sum + p[1], 0) / curve.points.length }];
  });
  usable.sort((a, b) => a.yMm - b.yMm);
  const distinct = usable.filter((u, i) => i === 0 || u.yMm - usable[i - 1]!.yMm > 20);
  const places = distinct.map((u) => u.yMm);
  return distinct.map(({ lift }, k) => ({ lift, share: shareOf(places, k) }));
}

function liftOf(
  stations: readonly TracedStation[],
  curve: LengthwiseCurve,
  heightAt: (x: number, y: number) => number,
): Curve1 | null {
  const over = (x: number): number => {
    const on = pointAt(curve, x);
    return on === null ? Number.NaN : on[2] - heightAt(on[0], on[1]);
  };
  const x: number[] = [stations[0]!.xMm];
  const lift: number[] = [0];
  const sampleMm = Math.max(SAMPLE_MM, (stations[stations.length - 1]!.xMm - x[0]!) / MOST_SAMPLES);
  for (let i = 1; i < stations.length; i++) {
    const a = stations[i - 1]!.xMm;
    const b = stations[i]!.xMm;
    const atA = over(a);
    const atB = over(b);
    const steps = Math.floor((b - a) / sampleMm);
    for (let k = 1; k < steps; k++) {
      const share = k / steps;
      const here = over(a + share * (b - a)) - (1 - share) * atA - share * atB;
      x.push(a + share * (b - a));
      lift.push(Number.isNaN(here) ? 0 : here);
    }
    x.push(b);
    lift.push(0);
  }
  if (lift.every((v) => v === 0)) return null;
  const spline = cubicSpline(x, lift);
  const [from, to] = [x[0]!, x[x.length - 1]!];
  return {
    at: (at) => (at < from || at > to ? straight(spline, Math.min(to, Math.max(from, at)), at) : spline.at(at)),
  };
}

function straight(spline: Curve1, end: number, at: number): Jet1 {
  const [value, first] = spline.at(end);
  return [value + first * (at - end), first, 0];
}

/** Quintic blend between neighbouring curves, level beyond the outermost: the shares add up to 1, C2. */
function shareOf(places: readonly number[], k: number): Curve1 {
  const blend = (a: number, b: number, y: number): Jet1 => {
    const span = b - a;
    const t = Math.min(1, Math.max(0, (y - a) / span));
    return [
      t * t * t * (10 - 15 * t + 6 * t * t),
      (30 * t * t * (1 - t) ** 2) / span,
      (60 * t * (1 - t) * (1 - 2 * t)) / (span * span),
    ];
  };
  return {
    at(y) {
      const here = places[k]!;
      if (y < here) {
        return k === 0 ? [1, 0, 0] : blend(places[k - 1]!, here, y);
      }
      if (k + 1 === places.length) return [1, 0, 0];
      const next = blend(here, places[k + 1]!, y);
      return [1 - next[0], -next[1], -next[2]];
    },
  };
}

/** Linear between the traced points; null beyond them. */
export function pointAt(curve: LengthwiseCurve, xMm: number): Vec3 | null {
  const { points } = curve;
  const behind = points.findIndex((p) => p[0] >= xMm);
  if (behind < 0) return null;
  const b = points[behind]!;
  if (b[0] === xMm) return b;
  if (behind === 0) return null;
  const a = points[behind - 1]!;
  const share = (xMm - a[0]) / (b[0] - a[0]);
  return [xMm, a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2])];
}
