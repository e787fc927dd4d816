/** A figure of a fit that a comparison shows, by its dotted name in the result. */
export interface ComparedFigure {
  readonly name: string;
  readonly label: string;
  readonly unit: 'cm2' | 'kPa' | 'share' | 'mm' | 'deg';
  readonly decimals: number;
}

/** Area and mean never stand without p95, peak and thirds (TRADE 4). */
export const COMPARED_FIGURES: readonly ComparedFigure[] = [
  { name: 'contact.areaCm2', label: 'contact area', unit: 'cm2', decimals: 0 },
  { name: 'contact.meanPressureKPa', label: 'mean pressure', unit: 'kPa', decimals: 1 },
  { name: 'contact.p95PressureKPa', label: '95th percentile', unit: 'kPa', decimals: 1 },
  { name: 'contact.peakPressureKPa', label: 'peak over the averaging cell', unit: 'kPa', decimals: 1 },
  { name: 'contact.shareFront', label: 'load, front third', unit: 'share', decimals: 0 },
  { name: 'contact.shareMiddle', label: 'load, middle third', unit: 'share', decimals: 0 },
  { name: 'contact.shareRear', label: 'load, rear third', unit: 'share', decimals: 0 },
  { name: 'contact.shareLeft', label: 'load, left', unit: 'share', decimals: 0 },
  { name: 'mismatch.lengthwiseLeftMm', label: 'lengthwise mismatch left (+ bridges)', unit: 'mm', decimals: 1 },
  { name: 'mismatch.lengthwiseRightMm', label: 'lengthwise mismatch right', unit: 'mm', decimals: 1 },
  { name: 'gap.minMm', label: 'least clearance (- squeeze)', unit: 'mm', decimals: 1 },
  { name: 'gap.maxMm', label: 'most clearance', unit: 'mm', decimals: 1 },
  { name: 'gap.middleMm', label: 'clearance at the middle', unit: 'mm', decimals: 1 },
  { name: 'spine.atForkMm', label: 'spine clearance at the fork', unit: 'mm', decimals: 0 },
  { name: 'pose.heightMm', label: 'height', unit: 'mm', decimals: 1 },
  { name: 'pose.pitchDeg', label: 'pitch (+ front up)', unit: 'deg', decimals: 2 },
  { name: 'pose.rollDeg', label: 'roll (+ right side up)', unit: 'deg', decimals: 2 },
  { name: 'coverage.excludedFraction', label: 'left out for want of data', unit: 'share', decimals: 1 },
];
