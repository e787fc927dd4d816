import { BAND_FIGURE_NAMES, type Band, type BandFigure, type HowSure } from '@barwright/geometry';
import {
  angleFigure,
  areaFigure,
  type FigureParts,
  gapFigure,
  pressureFigure,
  shareFigure,
  type Units,
} from '../../look/format.ts';
import { SURE_TEXTS } from '../../look/texts/sure.ts';

type Show = (value: number, units: Units) => FigureParts;

const pressure: Show = (value, units) => pressureFigure(value, units);
const gap: Show = (value, units) => gapFigure(value, units, { signed: true });
const angle: Show = (value) => angleFigure(value, true);
const share: Show = (value) => shareFigure(value);

/** Scale that it shares with others, and how it is written. */
const FIGURES: Readonly<Record<BandFigure, { readonly scale: string; readonly show: Show }>> = {
  meanPressureKPa: { scale: 'pressure', show: pressure },
  p95PressureKPa: { scale: 'pressure', show: pressure },
  peakPressureKPa: { scale: 'pressure', show: pressure },
  areaCm2: { scale: 'area', show: (value, units) => areaFigure(value, units) },
  shareFront: { scale: 'share', show: share },
  shareMiddle: { scale: 'share', show: share },
  pitchDeg: { scale: 'pose', show: angle },
  rollDeg: { scale: 'pose', show: angle },
  lengthwiseLeftMm: { scale: 'lengthwise', show: gap },
  lengthwiseRightMm: { scale: 'lengthwise', show: gap },
  slopeFrontDeg: { scale: 'slope', show: angle },
  slopeRearDeg: { scale: 'slope', show: angle },
  tipGapMm: { scale: 'gap', show: gap },
  spineAtForkMm: { scale: 'spine', show: (v, u) => gapFigure(v, u) },
};

export interface ShownBand {
  readonly figure: BandFigure;
  readonly name: string;
  readonly band: Band;
  readonly show: (value: number) => FigureParts;
  /** Ends of the scale it is drawn on: zero is always on it. */
  readonly from: number;
  readonly to: number;
}

/** Bands in the order of the figures, like ones on one scale. */
export function shownBands({ bands }: HowSure, units: Units): ShownBand[] {
  const known = BAND_FIGURE_NAMES.flatMap((figure) => {
    const band = bands[figure];
    return band === undefined ? [] : [{ figure, name: SURE_TEXTS.bands.figures[figure], band, ...FIGURES[figure] }];
  });
  return known.map(({ figure, name, band, scale, show }) => {
    const ends = known
      .filter((one) => one.scale === scale)
      .flatMap(({ band: { low, value, high } }) => [low, value, high]);
    const [from, to] = [Math.min(0, ...ends), Math.max(0, ...ends)];
    return { figure, name, band, show: (value) => show(value, units), from, to: to === from ? from + 1 : to };
  });
}
