/**
 * One bar's underside cut by a station plane, as it is: flare and relief included. Outward distance and height from the inner
 * edge to the outer, y rising, mm. Where the surface has a hole there are no points.
 */
export interface BarSection {
  readonly innerYMm: number;
  readonly outerYMm: number;
  readonly yMm: Float64Array;
  readonly zMm: Float64Array;
}

/** What is known of a surface that was built from a pattern, and has to be found on any other. */
export interface KnownSurface {
  /** The section without flare and relief. */
  bareSection(bMm: number): BarSection | null;
  /** Outward distances where the relief of the inner and of the outer edge begins, mm. */
  reliefEndsYMm(bMm: number): readonly [number, number];
  /** How far the flare lifts this station, mm. */
  flareLiftMm(bMm: number): number;
}

/** What measuring needs to know of one bar: b counts from its front tip edge, y outward, z up, mm. */
export interface BarSurface {
  readonly side: 'left' | 'right';
  readonly source: 'pattern' | 'mesh';
  /** First and last station that have a section; front and rear tip edge. */
  readonly fromMm: number;
  readonly toMm: number;
  /** The line that the rock is measured along, outward distance by station, and one sentence that says which it is. */
  readonly bearingLine: { readonly sentence: string; yMm(bMm: number): number };
  /** null where the plane misses the bar. */
  section(bMm: number): BarSection | null;
  readonly known: KnownSurface | null;
}
