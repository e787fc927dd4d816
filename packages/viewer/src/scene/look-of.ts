import { clearanceColour, pressureColour, type Rgb, type Setup } from '@barwright/geometry';
import type { BarView } from '../contract.ts';
import { decimalFigure, type FigureParts, gapFigure, pressureFigure, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import type { ViewState } from '../state/view-state.ts';
import { cellValues } from './build/cell-values.ts';
import {
  type ColourTable,
  curvatureColour,
  dataColour,
  giveColour,
  squeezeColour,
  tableOf,
  thicknessColour,
} from './build/colour-table.ts';
import { type ContourLevel, contourLevels, stepOf } from './build/contour-levels.ts';
import type { NearestPoint } from './build/nearest-point.ts';

/** One way of colouring undersides: the same in the picture, on the map and on paper. */
export interface Look {
  readonly title: string;
  readonly table: ColourTable;
  readonly levels: readonly ContourLevel[];
  /** Between fine contour lines, in the values' unit. */
  readonly step: number;
  /** sRGB 0..1. */
  readonly colourAt: (value: number) => Rgb;
  /** One for each cell, NaN without data. */
  readonly valuesOf: (bar: BarView) => Float32Array;
  readonly figureOf: (value: number, units: Units) => FigureParts;
}

export type LookedAt = Pick<
  ViewState,
  | 'colour'
  | 'clearanceScale'
  | 'pressureScale'
  | 'giveEndMm'
  | 'thicknessEndMm'
  | 'squeezeEndMm'
  | 'squeezeLayer'
  | 'curvatureEndPerM'
  | 'curvatureOf'
  | 'dataEndMm'
>;

const T = TEXTS.scene;

/** @param layers names of the stack's layers, to name the one that is shown */
export function lookOf(
  view: LookedAt,
  limits: Partial<Setup['limits']> | undefined,
  nearest: NearestPoint | null,
  layers: readonly string[],
): Look {
  const { colour } = view;
  const [from, to, colourAt] = mapOf(view);
  return {
    title: titleOf(view, layers),
    table: tableOf(from, to, colourAt),
    levels: contourLevels(colour, view, limits),
    step: stepOf(colour, view),
    colourAt,
    valuesOf: (bar) =>
      cellValues(bar, { colour, squeezeLayer: view.squeezeLayer, curvature: view.curvatureOf, nearest }),
    figureOf: FIGURES[colour],
  };
}

function mapOf(view: LookedAt): [from: number, to: number, colour: (value: number) => Rgb] {
  const { clearanceScale, pressureScale, giveEndMm, thicknessEndMm, squeezeEndMm, curvatureEndPerM, dataEndMm } = view;
  switch (view.colour) {
    case 'clearance':
      return [-clearanceScale.squeezeMm, clearanceScale.clearMm, (v) => clearanceColour(v, clearanceScale)];
    case 'pressure':
      return [0, pressureScale.maxKPa, (v) => pressureColour(v, pressureScale)];
    case 'give':
      return [-giveEndMm, giveEndMm, (v) => giveColour(v, giveEndMm)];
    case 'thickness':
      return [0, thicknessEndMm, (v) => thicknessColour(v, thicknessEndMm)];
    case 'squeeze':
      return [0, squeezeEndMm, (v) => squeezeColour(v, squeezeEndMm)];
    case 'curvature':
      return [-curvatureEndPerM, curvatureEndPerM, (v) => curvatureColour(v, curvatureEndPerM)];
    case 'data':
      return [0, dataEndMm, (v) => dataColour(v, dataEndMm)];
  }
}

function titleOf({ colour, squeezeLayer, curvatureOf }: LookedAt, layers: readonly string[]): string {
  if (colour === 'squeeze') return T.squeezeOf(layers[squeezeLayer] ?? T.allLayers);
  if (colour === 'curvature') return T.curvatureTitle(T.curvatures[curvatureOf]);
  return T.colours[colour];
}

const gap = (mm: number, units: Units): FigureParts => gapFigure(mm, units, { decimals: mm % 1 === 0 ? 0 : 1 });

const FIGURES: Readonly<Record<ViewState['colour'], Look['figureOf']>> = {
  clearance: gap,
  pressure: pressureFigure,
  give: gap,
  thickness: gap,
  squeeze: gap,
  curvature: (perM) => decimalFigure(perM, '1/m', perM % 1 === 0 ? 0 : 1),
  data: gap,
};
