import { type Curve1, cubicSpline, type Jet1 } from '../numeric/index.ts';
import { addProduct, type SurfaceJet } from './surface-jet.ts';
import type { TracedStation } from './tracings-stations.ts';

/** Height of a lofted back over its stations, in the tracings' frame, mm. Goes on smoothly beyond its data. */
export interface Loft {
  readonly fromXMm: number;
  readonly toXMm: number;
  readonly leftMm: number;
  readonly rightMm: number;
  contains(xMm: number, yMm: number): boolean;
  row(xMm: number): (yMm: number) => number;
  jet(xMm: number, yMm: number, out: SurfaceJet): SurfaceJet;
}

/** A lengthwise correction: `lift` along x, carried over the width with a share 0..1 that depends on y. */
export interface LoftLift {
  readonly lift: Curve1;
  readonly share: Curve1;
}

/**
 * C2 surface through sections: at equal y a cubic spline over the stations (not-a-knot), written as station weights
 * because a spline is linear in its values; straight beyond the first and last station. `lifts` are added on top.
 *
 * Data: between two stations only as far out as both were traced.
 * @param stations rising x, at least two
 */
export function loftStations(stations: readonly TracedStation[], lifts: readonly LoftLift[] = []): Loft {
  const x = stations.map((s) => s.xMm);
  const fromXMm = x[0]!;
  const toXMm = x[x.length - 1]!;
  const cards = x.map((_, i) =>
    cubicSpline(
      x,
      x.map((_, k) => (k === i ? 1 : 0)),
    ),
  );
  let cachedX = Number.NaN;
  let cached: readonly Jet1[] = [];
  const weightsAt = (xMm: number): readonly Jet1[] => {
    if (xMm === cachedX) return cached;
    const inside = Math.min(toXMm, Math.max(fromXMm, xMm));
    cached = cards.map((card) => {
      const [value, first, second] = card.at(inside);
      return inside === xMm ? [value, first, second] : [value + first * (xMm - inside), first, 0];
    });
    cachedX = xMm;
    return cached;
  };
  return {
    fromXMm,
    toXMm,
    leftMm: largest(stations.map((s) => s.leftMm)),
    rightMm: largest(stations.map((s) => s.rightMm)),
    contains: (xMm, yMm) => isTraced(stations, xMm, yMm),
    row(xMm) {
      const weights = weightsAt(xMm);
      const raised = lifts.map((l) => l.lift.at(xMm)[0]);
      const [leftMm, rightMm] = tracedWidth(stations, xMm);
      return (yMm) => {
        if (!(yMm >= -leftMm && yMm <= rightMm)) return Number.NaN;
        let z = 0;
        for (let i = 0; i < stations.length; i++) z += weights[i]![0] * stations[i]!.curve.heightAt(yMm);
        for (let k = 0; k < lifts.length; k++) z += raised[k]! * lifts[k]!.share.at(yMm)[0];
        return z;
      };
    },
    jet(xMm, yMm, out) {
      const weights = weightsAt(xMm);
      out.z = out.zx = out.zy = out.zxx = out.zxy = out.zyy = 0;
      for (let i = 0; i < stations.length; i++) addProduct(out, weights[i]!, stations[i]!.curve.at(yMm));
      for (const { lift, share } of lifts) addProduct(out, lift.at(xMm), share.at(yMm));
      return out;
    },
  };
}

const largest = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), 0);

/** How far out there is data at a station to the left and right, mm; -Infinity where there is none at all. */
function tracedWidth(stations: readonly TracedStation[], xMm: number): [left: number, right: number] {
  const behind = stations.findIndex((s) => s.xMm >= xMm);
  const b = stations[behind];
  if (b === undefined || (behind === 0 && b.xMm !== xMm)) return [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const a = b.xMm === xMm ? b : stations[behind - 1]!;
  const left = Math.min(a.leftMm, b.leftMm);
  const right = Math.min(a.rightMm, b.rightMm);
  return left > 0 || right > 0 ? [left, right] : [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
}

function isTraced(stations: readonly TracedStation[], xMm: number, yMm: number): boolean {
  const [left, right] = tracedWidth(stations, xMm);
  return yMm >= -left && yMm <= right;
}
