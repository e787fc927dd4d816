/** Lumped heat from the horse's back into a part: one temperature each for layers and bars. */
export interface Warmth {
  readonly ambientC: number;
  /** Time on the horse. */
  readonly minutes: number;
  readonly backC: number;
  /** Share of the way from ambient to the back's temperature that bars and layers reach in the end. */
  readonly barShare: number;
  readonly layerShare: number;
  /** Time constants. */
  readonly barMinutes: number;
  readonly layerMinutes: number;
}

/** Of the layers between bars and horse, degrees C. */
export const layerTemperatureC = (w: Warmth): number => lumpedC(w, w.layerShare, w.layerMinutes);

/** Of the bars and tips, degrees C. */
export const barTemperatureC = (w: Warmth): number => lumpedC(w, w.barShare, w.barMinutes);

/** T' = (T_end - T) / tau from ambient: first-order lumped heating, Newton's law of cooling. */
function lumpedC({ ambientC, backC, minutes }: Warmth, share: number, tauMinutes: number): number {
  return ambientC + share * (backC - ambientC) * -Math.expm1(-minutes / tauMinutes);
}
