import type { StridePhase } from '@barwright/geometry';
import type { ShoulderResult } from '../commands/shoulder.ts';
import { csvText } from './csv.ts';

const TIP = ['inner_gap_mm', 'bearing_gap_mm', 'outer_gap_mm', 'highest_kpa', 'load_n'];
export const SHOULDER_COLUMNS = [
  'set_position_mm,moment,phase,blade_left_mm,blade_right_mm,status,height_mm,pitch_deg,roll_deg,applied_n,supported_n',
  'contact_cm2,mean_kpa,p95_kpa,peak_kpa,share_front,share_left,share_right',
  ...['left', 'right'].map((side) => TIP.map((name) => `${side}_tip_${name}`).join(',')),
].join(',');

/** Every moment as a row, standing first; then the same crept forward, if it was asked for. */
export function shoulderCsv(result: ShoulderResult): string {
  const runs = result.crept === null ? [result] : [result, result.crept];
  const rows = runs.flatMap(({ setPositionMm, standing, phases }) => [
    [setPositionMm, 'standing', null, ...figures(standing)],
    ...phases.map((moment) => [setPositionMm, 'stride', moment.phase, ...figures(moment)]),
  ]);
  return csvText(SHOULDER_COLUMNS, rows);
}

function figures({ contact: c, tips, ...m }: StridePhase): (number | string | null)[] {
  return [
    ...[m.bladeLeftMm, m.bladeRightMm, m.status, m.heightMm, m.pitchDeg, m.rollDeg, m.appliedN, m.supportedN],
    ...[c.areaCm2, c.meanPressureKPa, c.p95PressureKPa, c.peakPressureKPa, c.shareFront, c.shareLeft, c.shareRight],
    ...tips.flatMap((tip) => [
      ...[tip.innerGapMm, tip.bearingGapMm, tip.outerGapMm],
      ...[tip.highestPressureKPa, tip.loadN],
    ]),
  ];
}
