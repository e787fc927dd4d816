import { createMapScale, type MapGrid, type MapScale } from '@barwright/geometry';
import type { RulerFrame } from '../../ruler/frame.ts';
import { createRulerScale } from '../../ruler/ruler-scale.ts';
import type { ViewState } from '../../state/view-state.ts';
import type { ComparedView, MapKind } from './compare-service.ts';
import { type DifferenceOf, differenceScale } from './difference-scale.ts';
import type { Matching } from './map-places.ts';

/** One of the results in the drawing, named A, B or C. */
export interface DrawnResult {
  readonly letter: string;
  readonly name: string;
  readonly view: ComparedView;
  /** Drawn bold on a map of pressure, kPa. */
  readonly limitsKPa: readonly number[];
}

/** Two of the results held against each other: the second less the first. */
export interface DrawnDifference {
  readonly first: string;
  readonly second: string;
  readonly matching: Matching;
  readonly end: number;
}

export type DrawnView = Pick<ViewState, 'isLaidOn' | 'units' | 'exaggeration' | 'clearanceScale' | 'pressureScale'>;

export const differenceOf = (map: MapKind): DifferenceOf => (map === 'pressure' ? 'pressure' : 'clearance');

/** The map that the view's choice of colours asks for; give and thickness are of one tree, so clearance stands in. */
export function mapKindOf({ colour, isLaidOn }: Pick<ViewState, 'colour' | 'isLaidOn'>): MapKind {
  if (colour === 'pressure') return 'pressure';
  return isLaidOn ? 'laidOn' : 'clearance';
}

export const mapScaleOf = (map: MapKind, view: DrawnView): MapScale =>
  createMapScale(differenceOf(map), { clearance: view.clearanceScale, pressure: view.pressureScale });

export const differenceScaleOf = (map: MapKind, { end }: DrawnDifference): MapScale =>
  differenceScale(differenceOf(map), end);

/** Heights of one result's bands, px. */
export interface BandHeights {
  readonly title: number;
  readonly bracket: number;
  readonly side: number;
  readonly strip: number;
  readonly gap: number;
  readonly map: number;
  readonly between: number;
  readonly end: number;
}

const WIDE: BandHeights = { title: 38, bracket: 32, side: 92, strip: 28, gap: 52, map: 84, between: 4, end: 16 };
const NARROW: BandHeights = { title: 66, bracket: 30, side: 48, strip: 22, gap: 40, map: 48, between: 3, end: 14 };

export interface CompareLayout {
  readonly frame: RulerFrame;
  readonly bands: BandHeights;
  readonly blockPx: number;
  readonly differencePx: number;
  /** One vertical exaggeration for all, so that heights can be held against each other. */
  readonly exaggeration: number;
  /** Of all maps: from the innermost edge outward, px per mm. */
  readonly innerMm: number;
  readonly acrossPxPerMm: number;
}

/** One axis that holds every bar and every last rib, one exaggeration and one scale across for all results. */
export function layOutComparison(
  results: readonly DrawnResult[],
  view: DrawnView,
  widthPx: number,
  stationXMm: number,
): CompareLayout {
  const isNarrow = widthPx < 560;
  const bands = isNarrow ? NARROW : WIDE;
  const places = results.flatMap(({ view: { back, profiles, frontMm } }) => [
    back.usable.fromXMm,
    back.usable.toXMm,
    frontMm,
    ...[profiles.left, profiles.right].flatMap(({ xMm }) => [xMm[0]!, xMm[xMm.length - 1]!]),
  ]);
  const scale = createRulerScale(places, isNarrow ? 10 : 92, widthPx - (isNarrow ? 10 : 44));
  const ranges = results.map((one) => heightRange(one.view, view.isLaidOn));
  const room = bands.side - 20;
  const maps = results.flatMap(({ view: { maps } }) => [maps.clearance.left, maps.clearance.right]);
  const innerMm = Math.min(...maps.map((grid) => extent(grid)[0]));
  const outerMm = Math.max(...maps.map((grid) => extent(grid)[1]));
  return {
    frame: { scale, units: view.units, widthPx, isNarrow, stationXMm },
    bands,
    blockPx:
      bands.title +
      bands.bracket +
      bands.side +
      bands.strip +
      2 * bands.gap +
      2 * bands.map +
      4 * bands.between +
      bands.end,
    differencePx: bands.title + 2 * bands.map + bands.between + bands.end,
    exaggeration: Math.min(view.exaggeration, room / Math.max(1, ...ranges) / scale.pxPerMm),
    innerMm,
    acrossPxPerMm: bands.map / Math.max(1, outerMm - innerMm),
  };
}

function extent({ acrossMm }: MapGrid): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const mm of acrossMm) {
    low = Math.min(low, mm);
    high = Math.max(high, mm);
  }
  return [low, high];
}

function heightRange({ profiles, laidOnProfiles }: ComparedView, isLaidOn: boolean): number {
  const { left, right } = isLaidOn ? laidOnProfiles : profiles;
  const heights = [left, right].flatMap((p) => [...p.barZMm, ...p.backZMm]).filter((z) => !Number.isNaN(z));
  return heights.length === 0 ? 1 : Math.max(...heights) - Math.min(...heights);
}
