/** A triangle mesh as flat arrays; what it measures in is said by its owner, in millimetres unless said otherwise. */
export interface TriangleMesh {
  /** 3n coordinates, x y z by vertex. */
  readonly positions: Float64Array;
  /** 3m vertex indices, counter-clockwise seen from outside. */
  readonly triangles: Uint32Array;
}
