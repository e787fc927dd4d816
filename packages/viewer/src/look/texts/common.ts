/** Words that stand in several places. */
export const COMMON_TEXTS = {
  clear: 'clear',
  squeeze: 'squeeze',
  touching: 'just touching',
  noData: 'no data',
  left: 'left',
  right: 'right',
  both: 'both bars',
  to: 'to',
  stale: 'working on the change; figures below are older',
} as const;
