/** Which bar a point belongs to. Charts keep one sheet per side; exact fields ignore it. */
export type Side = 'left' | 'right';

/**
 * Answers of a distance query, one row per point, all in the frame and unit of the query (horse frame, mm).
 * Rows without data keep hasData = 0 and undefined numbers in the other columns.
 */
export interface FootRows {
  /** Signed Euclidean distance to the nearest point of the surface, + outside (above the horse). */
  readonly distanceMm: Float64Array;
  /** 3n: the nearest point itself. */
  readonly footMm: Float64Array;
  /** 3n: outward unit normal of the surface at the nearest point (away from the horse). */
  readonly normal: Float64Array;
  /**
   * 6n: Hessian of the distance, symmetric, rows xx xy xz yy yz zz, 1/mm. For a smooth surface with shape operator S
   * it is S (1 + d S)^-1 on the tangent plane and 0 along the normal. Filled only when asked for.
   */
  readonly hessian: Float64Array;
  /** 1 where the answer is trusted; 0 beyond the data, in a hole, or with the foot on a boundary edge. */
  readonly hasData: Uint8Array;
}

/** What a caller knows that saves work. A field may ignore it. */
export interface FootHints {
  /** Hessian rows are needed only where the distance is below this, mm. Default: everywhere. */
  readonly hessianBelowMm?: number;
  /** Rows with hasData = 1 hold the answers at nearby points: the search starts from their feet. */
  readonly nearRows?: boolean;
}

export interface DistanceField {
  /**
   * Fills rows [from, to) of `out` for points [from, to) of `pointsMm` (3n, x y z).
   * Reads the points (and, with `nearRows`, its own rows), writes only those rows. `out` must not alias the points.
   */
  evaluate(
    pointsMm: Float64Array,
    from: number,
    to: number,
    side: Side,
    out: FootRows,
    wantHessian: boolean,
    hints?: FootHints,
  ): void;
  /** false for raw facets, whose distance has kinks: solvers then stop at a looser residual. */
  readonly smooth: boolean;
}

/** Rows for n points. */
export function createFootRows(n: number): FootRows {
  return {
    distanceMm: new Float64Array(n),
    footMm: new Float64Array(3 * n),
    normal: new Float64Array(3 * n),
    hessian: new Float64Array(6 * n),
    hasData: new Uint8Array(n),
  };
}
