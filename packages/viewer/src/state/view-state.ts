import type { LessonStep } from '@barwright/geometry';
import {
  CLEARANCE_SCALE_DEFAULT,
  type ClearanceScale,
  PRESSURE_SCALE_DEFAULT,
  type PressureScale,
} from '@barwright/geometry';
import type { CurvatureOf } from '../scene/build/curvature.ts';
import type { SavedView } from '../scene/camera-store.ts';

export const COLOUR_MODES = ['clearance', 'pressure', 'give', 'thickness', 'squeeze', 'curvature', 'data'] as const;
export type ColourMode = (typeof COLOUR_MODES)[number];
/** How many times over bending is drawn; nothing but the drawing of the bars follows it. */
export const BENDING_TIMES = [1, 5, 10] as const;

export type ViewFrom = 'left' | 'right' | 'below' | 'above' | 'three-quarter';

export interface Units {
  readonly length: 'mm' | 'in';
  readonly pressure: 'kPa' | 'psi';
  readonly mass: 'kg' | 'lb';
}

export type PointMm = readonly [number, number, number];

/** Two places as they were when they were taken, horse frame; they don't move with the bars, and show with their horse only. */
export interface Distance {
  readonly id: number;
  readonly from: PointMm;
  readonly to: PointMm;
  readonly horse: string;
}

/** How one looks at it: kept across reloads, never undone, never part of a document. */
export interface ViewState {
  readonly colour: ColourMode;
  /** true: the saddle alone on near-rigid layers, to read the shapes; false: under the rider. */
  readonly isLaidOn: boolean;
  readonly units: Units;
  /** The one marker, mm behind the blade edge; every view follows it. */
  readonly stationXMm: number;
  /** Index into the latest result's findings. */
  readonly selectedFinding: number | null;
  readonly theme: 'light' | 'dark';
  /** 0 solid .. 1 gone: the bars' upper parts. */
  readonly barsSeeThrough: number;
  /** Vertical exaggeration of the ruler's curves. */
  readonly exaggeration: number;
  readonly from: ViewFrom;
  /** Counts up when the same view is asked for again. */
  readonly fromAsked: number;
  readonly showBack: boolean;
  readonly showGhost: boolean;
  /** The picture is cut at the station marker. */
  readonly isCut: boolean;
  /** Ways of looking kept under names, in the order they were kept. */
  readonly savedViews: readonly SavedView[];
  readonly distances: readonly Distance[];
  /** Fixed scale ends, the same in every view and on paper. */
  readonly clearanceScale: ClearanceScale;
  readonly pressureScale: PressureScale;
  /** Ends of the move square to the underside, either way, mm. */
  readonly giveEndMm: number;
  readonly thicknessEndMm: number;
  /** Which layer's squeeze, by its place in the stack; -1: of all together. */
  readonly squeezeLayer: number;
  readonly squeezeEndMm: number;
  readonly curvatureOf: CurvatureOf;
  /** Ends of the curvature, either way, 1/m. */
  readonly curvatureEndPerM: number;
  /** End of the distance to the scan's points. */
  readonly dataEndMm: number;
  readonly bendingTimes: (typeof BENDING_TIMES)[number];
  readonly cutOpen: boolean;
  /** The place that the open lesson's step points at. */
  readonly lookAt: LessonStep['lookAt'] | null;
  /** What was answered to the open lesson, by the number of the step; '' where it was shown unanswered. */
  readonly answers: Readonly<Record<number, string>>;
  /** What of the lesson lies over the bench: its writing, or its page for paper. */
  readonly lessonSheet: 'write' | 'handout' | null;
  /** Larger type for a room. */
  readonly projector: boolean;
  /** Phone: the card as a sheet. */
  readonly cardOpen: boolean;
  readonly cautionsOpen: boolean;
}

export const VIEW_DEFAULTS: ViewState = Object.freeze({
  colour: 'clearance',
  isLaidOn: true,
  units: Object.freeze({ length: 'mm', pressure: 'kPa', mass: 'kg' }),
  stationXMm: 200,
  selectedFinding: null,
  theme: 'light',
  barsSeeThrough: 0.8,
  exaggeration: 4,
  from: 'three-quarter',
  fromAsked: 0,
  showBack: true,
  showGhost: true,
  isCut: false,
  savedViews: Object.freeze([]),
  distances: Object.freeze([]),
  clearanceScale: CLEARANCE_SCALE_DEFAULT,
  pressureScale: PRESSURE_SCALE_DEFAULT,
  giveEndMm: 2,
  thicknessEndMm: 30,
  squeezeLayer: -1,
  squeezeEndMm: 10,
  curvatureOf: 'back-across',
  curvatureEndPerM: 10,
  dataEndMm: 10,
  bendingTimes: 1,
  cutOpen: false,
  lookAt: null,
  answers: Object.freeze({}),
  lessonSheet: null,
  projector: false,
  cardOpen: false,
  cautionsOpen: false,
});
