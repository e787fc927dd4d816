import type { Units } from '../look/format.ts';
import type { RulerScale } from './ruler-scale.ts';

/** What every band of the ruler shares. */
export interface RulerFrame {
  readonly scale: RulerScale;
  readonly units: Units;
  readonly widthPx: number;
  /** Phone: names above the bands, fewer marks. */
  readonly isNarrow: boolean;
  readonly stationXMm: number;
  /** How many times over the whole drawing is enlarged; pixels of the window are so many times those of the drawing. Absent: 1. */
  readonly zoom?: number;
}

/** A stretch along the ruler that a chosen sentence points at. */
export interface MarkedStretch {
  readonly side: 'left' | 'right' | 'both';
  readonly fromMm: number;
  readonly toMm: number;
}
