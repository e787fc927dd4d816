import type { BackSurface, BarProfile, FitResult, FlexFigures } from '@barwright/geometry';

/**
 * What the compute worker hands to the page for one set of inputs. Plain data and typed arrays only: everything on
 * screen is drawn from this and from the documents. Horse frame, mm, kPa.
 */
export interface FitView {
  /** Counts up with every change of the inputs; a view of an older version is stale and dimmed. */
  readonly version: number;
  /**
   * 'bars' comes first, while dragging: bars, loaded profiles and tree are new, `result` and all
   * that is laid on are of older inputs. 'figures' follows at once; 'full' adds causes, capacity and accuracy when the hand rests.
   */
  readonly detail: 'bars' | 'figures' | 'full';
  /** Bars that bend, seated quickly to follow the hand: the figures come with bars of their own. */
  readonly isPassing: boolean;
  readonly result: FitResult;
  readonly bars: { readonly left: BarView; readonly right: BarView };
  /** Loaded, and laid on (saddle only, near-rigid layers). */
  readonly profiles: { readonly left: BarProfile; readonly right: BarProfile };
  readonly laidOnProfiles: { readonly left: BarProfile; readonly right: BarProfile };
  readonly laidOnBars: { readonly left: BarView; readonly right: BarView };
  readonly laidOnTree: TreeView;
  readonly tree: TreeView;
  /** Uncompressed thickness of the layers, mm. */
  readonly layersMm: number;
  readonly loadAtXMm: number;
  /** Vertical force by zone of the bars, of rigid ones too, to compare with. N */
  readonly zones: FlexFigures['zones'];
}

/** One bar's underside as a grid of cells, settled. rows x columns, row-major from the front tip, inner edge to outer. */
export interface BarView {
  readonly rows: number;
  readonly columns: number;
  /** 3n cell centres. */
  readonly positions: Float32Array;
  /** 3n, towards the horse. */
  readonly normals: Float32Array;
  /** Clearance to the layers' top, + clear, - squeeze; NaN without data. */
  readonly gapMm: Float32Array;
  readonly pressureKPa: Float32Array;
  /** 0..1 of each cell that bears (stirrup slot taken out). */
  readonly bearing: Float32Array;
  /** Upper side of the bar for drawing it as a solid: 3n. */
  readonly topPositions: Float32Array;
  readonly bMm: Float32Array;
  readonly t: Float32Array;
  /** Move under load square to the underside, + away from the horse; 0 for rigid bars. */
  readonly giveMm: Float32Array;
  /** Of the bar itself, square to the underside. */
  readonly thicknessMm: Float32Array;
  /** 3n: how far bending moved each cell, horse frame; null for rigid bars. `positions` have it in them. */
  readonly bentMm: Float32Array | null;
  /** 3n: the nearest point of the back to each cell, horse frame; not to be read where `gapMm` is NaN. */
  readonly feet: Float32Array;
  /** 3n: the back's unit normal at each foot, away from the horse. */
  readonly backNormals: Float32Array;
  /** What each layer of this seating is squeezed by under its cell's pressure, in the order of the stack. */
  readonly layers: readonly LayerView[];
}

export interface LayerView {
  readonly name: string;
  /** Unloaded, mm; 0 for tissue. */
  readonly thicknessMm: number;
  /** n, 0 where nothing presses; NaN without data. */
  readonly squeezeMm: Float32Array;
}

/** Ghost of what joins the bars, for the eye only, settled, horse frame: outlines in the midplane as 3n polylines. */
export interface TreeView {
  readonly fork: Float32Array;
  readonly cantle: Float32Array;
  readonly seat: Float32Array;
  /** Where the fork's foot ends and the cantle's begins on the bars, mm from the front tip. */
  readonly forkBackMm: number;
  readonly cantleFrontMm: number;
  readonly surfaces: { readonly fork: GhostSurface; readonly cantle: GhostSurface; readonly seat: GhostSurface };
}

/** A net of rows x columns points, 3n, row-major. */
export interface GhostSurface {
  readonly rows: number;
  readonly columns: number;
  readonly positions: Float32Array;
}

/** The back as the page draws it; changes only with the back document or the legs. */
export interface BackView {
  readonly version: number;
  readonly name: string;
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly triangles: Uint32Array;
  readonly landmarks: BackSurface['landmarks'];
  readonly usable: { readonly fromXMm: number; readonly toXMm: number };
  readonly measured: BackSurface['measured'];
  readonly kind: BackSurface['kind'];
  /** What reading the scan had to say, one sentence each. */
  readonly warnings: readonly string[];
  /** 3n: the scan's own points after cleaning; null for a back drawn through measured numbers. */
  readonly pointsMm: Float32Array | null;
}

/** A station cut: bar undersides and back in one crosswise plane, horse frame; polylines as y, z pairs, NaN where there is no data. */
export interface CutView {
  readonly xMm: number;
  readonly back: Float32Array;
  readonly left: CutBar | null;
  readonly right: CutBar | null;
}

export interface CutBar {
  readonly bMm: number;
  readonly underside: Float32Array;
  /** Upper side, from inner edge to outer, for drawing the bar as a body. */
  readonly top: Float32Array;
  readonly barSlopeDeg: number;
  readonly backSlopeDeg: number | null;
  readonly gapInnerMm: number | null;
  readonly gapMiddleMm: number | null;
  readonly gapOuterMm: number | null;
}
