import type { Confidence } from './propose-part.ts';

/** Height along the midplane and to the sides of it, mm: u along the horse one way or the other, v across. */
export type ProfileAt = (uMm: number, vMm: number) => number;

export interface TailReading {
  /** True when the tail lies towards larger u. */
  readonly towardsLarger: boolean;
  readonly confidence: Confidence;
  readonly reason: string;
  /** 0.5 ... 1. */
  readonly score: number;
}

const STEP_MM = 10;
/** The fall from the ridge is read this far out, mm. */
const OUT_MM = 80;
const END_SHARE = 0.25;
const CLEAR_RATIO = 1.6;
const LIKELY_RATIO = 1.25;
/** Withers lower than the other end by more than this take one step from the confidence, mm. */
const CONTRARY_MM = 20;

/**
 * Which end is the head's. The withers are narrow and steep-sided, the loin is flat: the end that falls away more over
 * 80 mm to both sides is the withers'. Height agrees or takes away from the confidence, no more: withers stood as high as
 * the croup or higher in 71.5 % of 193 horses ('Relative heights of the withers and the tubera sacrale', lame horses).
 * The limits of 1.6 and 1.25 are our own, no source.
 */
export function readTail(profile: ProfileAt, fromMm: number, toMm: number): TailReading {
  const stations: { fall: number; height: number }[] = [];
  for (let u = fromMm; u <= toMm; u += STEP_MM) {
    const height = profile(u, 0);
    const fall = height - (profile(u, OUT_MM) + profile(u, -OUT_MM)) / 2;
    if (!Number.isNaN(fall)) stations.push({ fall, height });
  }
  const count = Math.max(1, Math.floor(END_SHARE * stations.length));
  if (stations.length < 8) {
    const reason = `Too little of the topline with ${OUT_MM} mm to both sides to tell head from tail.`;
    return { towardsLarger: true, confidence: 'unsure', reason, score: 0.5 };
  }
  const mean = (from: number, key: 'fall' | 'height') =>
    stations.slice(from, from + count).reduce((sum, s) => sum + s[key], 0) / count;
  const small = { fall: mean(0, 'fall'), height: mean(0, 'height') };
  const large = { fall: mean(stations.length - count, 'fall'), height: mean(stations.length - count, 'height') };
  const towardsLarger = small.fall >= large.fall;
  const [withers, loin] = towardsLarger ? [small, large] : [large, small];
  const ratio = withers.fall / Math.max(loin.fall, 1);
  const higher = withers.height - loin.height;
  const reason =
    `One end falls away ${withers.fall.toFixed(0)} mm over ${OUT_MM} mm to the sides, the other ${loin.fall.toFixed(0)} mm: ` +
    `the steep one is taken for the withers, which stand ${Math.abs(higher).toFixed(0)} mm ${higher >= 0 ? 'higher' : 'lower'} than the other end.`;
  return { towardsLarger, confidence: trust(ratio, higher), reason, score: ratio / (1 + ratio) };
}

function trust(ratio: number, higherMm: number): Confidence {
  const isContrary = higherMm < -CONTRARY_MM;
  if (ratio >= CLEAR_RATIO) return isContrary ? 'likely' : 'clear';
  return ratio >= LIKELY_RATIO && !isContrary ? 'likely' : 'unsure';
}
