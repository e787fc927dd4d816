import type { GiveStudy } from '@barwright/geometry';
import { csvText } from './csv.ts';
import { flexRows, largestMoves, tipLoadN } from './flex-rows.ts';

export const FLEX_COLUMNS =
  'group,variant,status,area_cm2,mean_kpa,p95_kpa,peak_kpa,tip_load_n,middle_gap_mm,front_tip_gap_mm,front_tip_move_mm,middle_move_mm,strain_percent,spine_along_mm,height_mm,pitch_deg';

/** Every variant as a row; empty where there is none. */
export function flexCsv(study: GiveStudy): string {
  const rows = flexRows(study).map(({ group, name, figures: f }) => {
    const moves = largestMoves(f);
    return [
      ...[group, name, f.status, f.areaCm2, f.meanKPa, f.p95KPa, f.peakKPa, tipLoadN(f), f.middleGapMm ?? ''],
      ...[f.frontTipGapMm ?? '', moves?.tipMm ?? '', moves?.middleMm ?? '', moves?.strainPercent ?? ''],
      ...[f.spineAlongMm ?? '', f.heightMm, f.pitchDeg],
    ];
  });
  return csvText(FLEX_COLUMNS, rows);
}
