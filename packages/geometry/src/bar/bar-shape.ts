/** One bar's numbers at one station, resolved: mm and radians. */
export interface BarStation {
  readonly name: string;
  /** Distance from the front tip edge, mm. */
  readonly atMm: number;
  /** Slope of the chord below horizontal, going outward. */
  readonly slopeRad: number;
  /** Horizontal inner-edge to inner-edge distance of a symmetric pair, mm: this bar's inner edge is at half of it. */
  readonly spreadMm: number;
  /** Chord from inner to outer edge in the station plane, mm. */
  readonly widthMm: number;
  /** 1 / crown radius, + convex towards the horse, 0 flat. */
  readonly crownCurvaturePerMm: number;
  /** Horizontal distance of the bar's bearing line outward of its inner edge, mm. */
  readonly bearingInsetMm: number;
  readonly thicknessMm: number;
}

/** The underside of one bar in plain numbers. Everything is measured from the front tip edge, b = 0. */
export interface BarShape {
  readonly lengthMm: number;
  /** At least one, by rising atMm. */
  readonly stations: readonly BarStation[];
  /** 1 / rock radius, + convex downward, 0 flat. */
  readonly rockCurvaturePerMm: number;
  /** Station of the low point of the bearing line, mm. */
  readonly rockLowPointMm: number;
  readonly flareZoneFrontMm: number;
  readonly flareZoneRearMm: number;
  readonly flareLiftFrontMm: number;
  readonly flareLiftRearMm: number;
  readonly reliefDepthMm: number;
  /** Share of the width relieved along each edge, 0..0.5. */
  readonly reliefFraction: number;
  /** Share of the width left at the tip edges, 0..1. */
  readonly tipTaper: number;
  /** Radius of the rounded corners in plan, mm. */
  readonly tipRoundMm: number;
  readonly slotCentreMm: number;
  readonly slotLengthMm: number;
  readonly slotWidthMm: number;
  /** Slot centre across the width, 0 inner edge .. 1 outer edge. */
  readonly slotAcross: number;
}
