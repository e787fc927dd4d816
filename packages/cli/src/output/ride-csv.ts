import type { RideResult } from '../commands/ride.ts';
import { csvText } from './csv.ts';

export const RIDE_COLUMNS = [
  'case,status,applied_n,mean_kpa,p95_kpa,peak_kpa,contact_cm2,pitch_deg,roll_deg,share_front,share_middle,share_rear',
  'share_left,share_right,held_x_n,held_y_n,findings,source',
].join(',');

/** Every case as a row. Findings by name, a blank between. */
export function rideCsv({ cases }: RideResult): string {
  const rows = cases.map(({ case: one, status, load, contact: c, pose, reactions, findings }) => [
    ...[one.name, status, load.appliedN, c.meanPressureKPa, c.p95PressureKPa, c.peakPressureKPa, c.areaCm2],
    ...[pose.pitchDeg, pose.rollDeg, c.shareFront, c.shareMiddle, c.shareRear, c.shareLeft, c.shareRight],
    ...[reactions.xN, reactions.yN, [...new Set(findings.map(({ code }) => code))].join(' '), one.source],
  ]);
  return csvText(RIDE_COLUMNS, rows);
}
