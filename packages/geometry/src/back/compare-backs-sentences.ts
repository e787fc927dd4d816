import type { BackSurface } from './back-surface.ts';
import type { CompareRegion, CompareRow } from './compare-backs.ts';
import type { BackMotion } from './compare-backs-align.ts';

/** The comparison in words: how the two were laid together, what can be shown, what can't be told. */
export function compareSentences(
  before: BackSurface,
  after: BackSurface,
  motion: BackMotion,
  rows: readonly CompareRow[],
  regions: readonly CompareRegion[],
): string[] {
  const known = rows.filter(({ differenceMm }) => !Number.isNaN(differenceMm));
  const dates = `${before.measured.on} and ${after.measured.on}`;
  if (known.length === 0) return [`Between ${dates} nothing can be compared: the two have no data in common.`];
  return [
    laidTogether(motion),
    ...regions.flatMap((region) => regionSentence(region)),
    shownShare(known, dates),
    ...coverage(known.length / rows.length),
    ...(before.measured.on > after.measured.on ? ['The earlier of the two was measured later: check the order.'] : []),
  ];
}

function laidTogether(motion: BackMotion): string {
  if (Number.isNaN(motion.residualMm)) {
    return 'Laid together by their landmarks: an error in a landmark, or a change at the low point that heights count from, shows as a difference over the whole back.';
  }
  const { backwardMm, rightMm, upMm, pitchDeg, rollDeg, residualMm } = motion;
  const moved =
    `Laid together where they agree best: the later back moved ${way(backwardMm, 'back', 'forward')}, ` +
    `${way(rightMm, 'to the right', 'to the left')}, ${way(upMm, 'up', 'down')}, pitch ${angle(pitchDeg)} and roll ${angle(rollDeg)} degrees; the half that agrees best differs by ${residualMm.toFixed(1)} mm.`;
  const whole = ' A change of the whole back alike is hidden by this.';
  return motion.atBound ? `${moved}${whole} The motion reached its bound: these may not be one horse.` : moved + whole;
}

function regionSentence({ side, third, meanMm, limitMm }: CompareRegion): string[] {
  if (!(Math.abs(meanMm) > limitMm)) return [];
  const way = meanMm > 0 ? 'fuller' : 'lower';
  return [
    `The ${third} third on the ${side} is ${mm(Math.abs(meanMm))} ${way} on average, more than the ${mm(limitMm)} that can be shown.`,
  ];
}

function shownShare(known: readonly CompareRow[], dates: string): string {
  const shown = known.filter(({ differenceMm, limitMm }) => Math.abs(differenceMm) > limitMm);
  if (shown.length === 0) {
    const most = known.reduce((max, row) => Math.max(max, Math.abs(row.differenceMm)), 0);
    return `Between ${dates} can't tell from these measurements: no difference (largest ${mm(most)}) exceeds the error of measuring twice.`;
  }
  const far = shown.reduce((a, b) => (Math.abs(b.differenceMm) > Math.abs(a.differenceMm) ? b : a));
  const percent = (100 * shown.length) / known.length;
  const share = percent < 1 ? 'less than 1' : percent.toFixed(0);
  const side = far.yMm === 0 ? 'on the midline' : far.yMm < 0 ? 'left' : 'right';
  return (
    `Between ${dates} ${share} % of the compared grid differs by more than the error of measuring twice; most at ` +
    `${far.xMm} mm behind the blade edge, ${far.yMm === 0 ? '' : `${Math.abs(far.yMm)} mm `}${side}: ${far.differenceMm > 0 ? '+' : ''}${mm(far.differenceMm)}.`
  );
}

const coverage = (share: number): string[] =>
  share < 0.95
    ? [`${(100 * (1 - share)).toFixed(0)} % of the grid has no data on one or both backs and is left out.`]
    : [];

const way = (value: number, plus: string, minus: string): string =>
  `${mm(Math.abs(value))} ${value < 0 ? minus : plus}`;
const angle = (deg: number): string => (Math.abs(deg) < 0.005 ? '0.00' : deg.toFixed(2));
const mm = (value: number): string => `${value.toFixed(1)} mm`;
