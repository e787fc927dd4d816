import type { BackComparison } from '@barwright/geometry';

export const CHANGE_COLUMNS = 'x_mm,y_mm,before_mm,after_mm,difference_mm,limit_mm,has_data,is_shown';

/** The compared grid as CSV, horse frame, the later back as it was laid; places without data leave heights empty. */
export function changesCsv({ rows }: BackComparison): string {
  const text = (value: number): string => (Number.isFinite(value) ? String(value) : '');
  const lines = rows.map(({ xMm, yMm, beforeMm, afterMm, differenceMm, limitMm }) => {
    const hasData = Number.isFinite(differenceMm);
    const figures = [xMm, yMm, beforeMm, afterMm, differenceMm, limitMm].map(text);
    return [...figures, hasData ? 1 : 0, hasData && Math.abs(differenceMm) > limitMm ? 1 : 0].join(',');
  });
  return `${[CHANGE_COLUMNS, ...lines].join('\n')}\n`;
}
