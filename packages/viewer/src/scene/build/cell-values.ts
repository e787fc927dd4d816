import type { BarView } from '../../contract.ts';
import type { ColourMode } from '../../state/view-state.ts';
import { type CurvatureOf, curvatureOf } from './curvature.ts';
import { FARTHEST_MM, type NearestPoint } from './nearest-point.ts';

/** What a colour shows of a bar, where the colour alone doesn't say it. */
export interface Shades {
  readonly colour: ColourMode;
  /** Place in the stack; all of it where there is no such layer. */
  readonly squeezeLayer: number;
  readonly curvature: CurvatureOf;
  /** Of the scan's points; null for a back drawn through measured numbers. */
  readonly nearest: NearestPoint | null;
}

/** One value for each cell, NaN where there is none. mm, kPa or 1/m. `bar` as it was computed, its bending not exaggerated. */
export function cellValues(bar: BarView, shades: Shades): Float32Array {
  switch (shades.colour) {
    case 'clearance':
      return bar.gapMm;
    case 'pressure':
      return bar.pressureKPa;
    case 'give':
      return bar.giveMm;
    case 'thickness':
      return bar.thicknessMm;
    case 'squeeze':
      return bar.layers[shades.squeezeLayer]?.squeezeMm ?? wholeSqueeze(bar);
    case 'curvature':
      return curvatureOf(bar, shades.curvature);
    case 'data':
      return dataDistance(bar, shades.nearest);
  }
}

/** Of all layers together. */
const wholeSqueeze = (bar: BarView): Float32Array =>
  bar.gapMm.map((_, k) => bar.layers.reduce((sum, { squeezeMm }) => sum + squeezeMm[k]!, 0));

/** From each foot to the nearest point of the scan; 0 on a back without points, NaN without data. */
const dataDistance = ({ gapMm, feet }: BarView, nearest: NearestPoint | null): Float32Array =>
  gapMm.map((gap, k) => {
    if (Number.isNaN(gap)) return Number.NaN;
    if (nearest === null) return 0;
    return Math.min(FARTHEST_MM, nearest(feet[3 * k]!, feet[3 * k + 1]!, feet[3 * k + 2]!));
  });
