import { type BackSurface, type BladePositions, moveBlades } from '../back/index.ts';

/** How the blades move over a stride. All of it is assumed but what the back states; editable. */
export interface Stride {
  /** Rear edge's way back at full swing, mm. */
  readonly swingLeftMm: number;
  readonly swingRightMm: number;
  /** How much higher the patch stands at full swing, mm. */
  readonly riseMm: number;
  /** Share of the stride by which the right leg follows the left: a half at walk and trot. */
  readonly rightAfterLeft: number;
  /** Moments looked at, evenly over one stride. */
  readonly phases: number;
}

export const STRIDE_PHASES = 36;

/** The stride of a back's own blades, walk or trot, with what somebody changed. */
export function strideOf({ blades }: BackSurface, changes: Partial<Stride> = {}): Stride {
  return {
    swingLeftMm: blades.swingMm,
    swingRightMm: blades.swingMm,
    riseMm: 0,
    rightAfterLeft: 0.5,
    phases: STRIDE_PHASES,
    ...changes,
  };
}

/**
 * Blade positions at a phase from 0 to 1: the left leg stands at 0 and is fully forward at a half. A raised cosine, so
 * that the blade rests at both ends of its way (our own choice; DESIGN 5 names no path).
 */
export function bladesAt(stride: Stride, phase: number): BladePositions {
  const left = swung(phase);
  const right = swung(phase - stride.rightAfterLeft);
  return {
    leftMm: stride.swingLeftMm * left,
    rightMm: stride.swingRightMm * right,
    riseLeftMm: stride.riseMm * left,
    riseRightMm: stride.riseMm * right,
  };
}

/** 0 standing .. 1 fully forward; rounded so that the same place on the way out and back is the same number. */
const swung = (phase: number): number => Math.round(((1 - Math.cos(2 * Math.PI * phase)) / 2) * 1e9) / 1e9;

/**
 * The back at any phase of a stride. Positions that come again, as those of the way out do on the way back, give the
 * back made before.
 */
export function createStridingBack(standing: BackSurface, stride: Stride): (phase: number) => BackSurface {
  const known = new Map<string, BackSurface>();
  return (phase) => {
    const at = bladesAt(stride, phase);
    const key = JSON.stringify(at);
    const found = known.get(key) ?? moveBlades(standing, at);
    known.set(key, found);
    return found;
  };
}
