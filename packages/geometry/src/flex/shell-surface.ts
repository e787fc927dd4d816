/** Place and derivatives of a reference surface r(b, tau), tau from -1 to 1 across. 3-vectors, mm. */
export interface SurfaceJet {
  readonly r: Float64Array;
  readonly rb: Float64Array;
  readonly rt: Float64Array;
  readonly rbb: Float64Array;
  readonly rbt: Float64Array;
  readonly rtt: Float64Array;
  /** false where the rectangle b x tau goes beyond the bar's outline: no material. */
  inside: boolean;
}

/** A shell's reference surface and what lies on it. The normal rb x rt points into the material. */
export interface ShellSurface {
  readonly lengthMm: number;
  at(bMm: number, tau: number, out: SurfaceJet): SurfaceJet;
}

export const createSurfaceJet = (): SurfaceJet => ({
  r: new Float64Array(3),
  rb: new Float64Array(3),
  rt: new Float64Array(3),
  rbb: new Float64Array(3),
  rbt: new Float64Array(3),
  rtt: new Float64Array(3),
  inside: true,
});

/** A flat plate, for comparison with closed forms: width may change along it. z up is into the material. */
export function flatSurface(lengthMm: number, widthMm: (bMm: number) => number): ShellSurface {
  return {
    lengthMm,
    at(b, tau, out) {
      const [half, slope] = [widthMm(b) / 2, (widthMm(b + 1e-3) - widthMm(b - 1e-3)) / 4e-3];
      out.r.set([b, tau * half, 0]);
      out.rb.set([1, tau * slope, 0]);
      out.rt.set([0, half, 0]);
      out.rbb.fill(0);
      out.rbt.set([0, slope, 0]);
      out.rtt.fill(0);
      return out;
    },
  };
}
