import type { ViewState } from '../state/view-state.ts';

type PointMm = readonly [number, number, number];

/** Where the eye stands and what it looks at, horse frame, mm. */
export interface CameraPlace {
  readonly position: PointMm;
  readonly target: PointMm;
}

/** How the picture is looked at, as far as a saved view brings it back. */
export const KEPT_IN_VIEW = [
  'colour',
  'isLaidOn',
  'squeezeLayer',
  'curvatureOf',
  'barsSeeThrough',
  'showBack',
  'showGhost',
  'isCut',
  'stationXMm',
  'bendingTimes',
] as const satisfies readonly (keyof ViewState)[];

export interface SavedView {
  readonly name: string;
  /** null where there was no picture. */
  readonly camera: CameraPlace | null;
  readonly shown: Pick<ViewState, (typeof KEPT_IN_VIEW)[number]>;
}

/** What the picture, where there is one, answers to. */
export interface PictureHand {
  readonly whereIs: () => CameraPlace;
  readonly goTo: (place: CameraPlace) => void;
}

let hand: PictureHand | null = null;

/** The picture says that it is there, and takes it back when it goes. */
export function offerHand(offered: PictureHand): () => void {
  hand = offered;
  return () => {
    if (hand === offered) hand = null;
  };
}

export const pictureHand = (): PictureHand | null => hand;

/** The view as it is, under a name; a view of the same name is replaced. */
export function withView(
  views: readonly SavedView[],
  name: string,
  view: ViewState,
  camera: CameraPlace | null,
): SavedView[] {
  const shown = Object.fromEntries(KEPT_IN_VIEW.map((key) => [key, view[key]])) as SavedView['shown'];
  return [...views.filter((one) => one.name !== name), { name, camera, shown }];
}
