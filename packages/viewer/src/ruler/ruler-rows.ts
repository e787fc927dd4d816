const WIDE = { bracket: 30, side: 112, strip: 30, gap: 50, load: 38, axis: 48, between: 4 };
const NARROW = { bracket: 28, side: 36, strip: 22, gap: 32, load: 44, axis: 32, between: 4 };
/** Enlarged the side view has to be tall enough to show a curve. */
const ROOM = { ...NARROW, side: 62 };
/** Share of the window that the drawing may take beside the picture, and what the buttons above it need, px. */
const WINDOW_SHARE = 0.44;
const CONTROLS_PX = 52;

/** Where each band of the ruler lies, px from its top. */
export interface Rows {
  readonly side: number;
  readonly sideHeight: number;
  readonly strip: number;
  readonly gapLeft: number;
  readonly gapRight: number;
  readonly gapHeight: number;
  readonly load: number;
  readonly loadHeight: number;
  readonly axis: number;
  readonly end: number;
}

/**
 * Bands one below the other. On a wide page the curves grow or shrink so that the axis stays in sight; on a phone the axis
 * stands right under the gaps and the load comes below it.
 * @param windowPx height of the window
 */
export function layOut(isNarrow: boolean, zoom: number, windowPx: number): Rows {
  const h = zoom > 1 ? ROOM : isNarrow ? NARROW : WIDE;
  const availablePx = (windowPx * WINDOW_SHARE - CONTROLS_PX) / zoom;
  const fixed = h.bracket + h.strip + h.axis + 3 * h.between;
  const curves = h.side + 2 * h.gap + h.load;
  const stretch = isNarrow ? 1 : Math.min(1.6, Math.max(0.8, (availablePx - fixed) / curves));
  const [sideHeight, gapHeight, loadHeight] = [h.side, h.gap, h.load].map((px) => Math.round(px * stretch)) as [
    number,
    number,
    number,
  ];
  const side = h.bracket;
  const strip = side + sideHeight;
  const gapLeft = strip + h.strip;
  const gapRight = gapLeft + gapHeight + h.between;
  const below = gapRight + gapHeight + h.between;
  const load = isNarrow ? below + h.axis : below;
  const axis = isNarrow ? below : load + loadHeight + h.between;
  const end = Math.max(axis + h.axis, load + loadHeight + 18);
  return { side, sideHeight, strip, gapLeft, gapRight, gapHeight, load, loadHeight, axis, end };
}
