import { findBladeUnderTip } from './find-blade-under-tip.ts';
import { findCrosswise } from './find-crosswise.ts';
import { findEdgeBearing } from './find-edge-bearing.ts';
import { findLayerSolid } from './find-layer-solid.ts';
import { findLengthwise } from './find-lengthwise.ts';
import { findLowSpineClearance } from './find-low-spine-clearance.ts';
import { findOffData } from './find-off-data.ts';
import { findOverFlex } from './find-over-flex.ts';
import { findPastLastRib } from './find-past-last-rib.ts';
import { findPressurePoint } from './find-pressure-point.ts';
import { mergeSides } from './merge-sides.ts';
import type { Finder, Observation } from './observation.ts';
import type { Reading } from './reading.ts';

/** Every kind of finding that one seating shows by itself. To add one: write its finder and name it here. */
export const FINDERS: readonly Finder[] = [
  findLengthwise,
  findCrosswise,
  findEdgeBearing,
  findPressurePoint,
  findLayerSolid,
  findPastLastRib,
  findBladeUnderTip,
  findLowSpineClearance,
  findOverFlex,
  findOffData,
];

/** All observations of one reading, largest against its rule first. */
export function observeAll(reading: Reading): Observation[] {
  if (reading.seated.status === 'no contact') return mergeSides(findOffData(reading));
  return mergeSides(FINDERS.flatMap((find) => find(reading))).sort((a, b) => b.ratio - a.ratio);
}
