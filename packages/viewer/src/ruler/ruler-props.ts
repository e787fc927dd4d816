import type { ClearanceScale } from '@barwright/geometry';
import type { BackView, FitView } from '../contract.ts';
import type { Units } from '../look/format.ts';
import type { MarkedStretch } from './frame.ts';
import type { BarSide, ShapeName } from './ShapeHandles.tsx';

export interface RulerProps {
  readonly fit: FitView | null;
  readonly back: BackView | null;
  readonly units: Units;
  readonly stationXMm: number;
  readonly setPositionMm: number;
  /** Per cent of bar length from the front tip; null while it is not known. */
  readonly loadAtPercent: number | null;
  /** Bar lengths from the pattern as it stands, so that the strip follows a drag at once. */
  readonly bar: { readonly lengthMm: number; readonly flareFrontMm: number; readonly flareRearMm: number } | null;
  /** What of the bars' shape can be dragged here; null while no pattern is read. */
  readonly barSide: BarSide | null;
  readonly exaggeration: number;
  /** 1, or more where the ruler is read from across a room. */
  readonly zoom: number;
  readonly limits: ClearanceScale;
  readonly marked: MarkedStretch | null;
  readonly isStale: boolean;
  readonly isLaidOn: boolean;
  readonly onLaidOn: (laidOn: boolean) => void;
  readonly onExaggeration: (factor: number) => void;
  readonly onStation: (xMm: number) => void;
  readonly onSetPosition: (mm: number) => void;
  readonly onLoadAt: (percent: number) => void;
  readonly onShape: (name: ShapeName, mm: number, fromMm: number) => void;
  readonly onOpenCut: () => void;
  readonly onDragStart?: () => void;
  readonly onDragEnd?: () => void;
}
