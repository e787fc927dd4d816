import type { FindingCode } from '../findings/index.ts';
import type { SeatRange } from './seat-range.ts';
import type { SizeCell, SizeFinding } from './size-cell.ts';

const MM_PER_IN = 25.4;
const inches = (value: number): string => `${Number(value.toFixed(2))} in`;
const mm = (value: number): string => `${value.toFixed(0)} mm`;

export interface ReasonContext {
  readonly range: SeatRange;
  readonly isInRange: boolean;
  /** The tree that was taken; null when none was. */
  readonly taken: SizeCell | null;
}

/** One sentence why a tree of the shelf was not taken: the seat first, then its room, then what it shows. */
export function reasonAgainst(cell: SizeCell, { range, isInRange, taken }: ReasonContext): string {
  if (!isInRange) return seatReason(cell, range);
  const off = cell.cases.find(({ status }) => status !== 'settled');
  if (off !== undefined) return `At ${off.name} it ends "${off.status}": nothing can be said of it there.`;
  const { worst } = cell;
  const past = worstPastRib(cell);
  if (past !== null && (taken === null || worstPastRib(taken) === null)) {
    const also = worst === null || worst.code === 'past-last-rib' ? '' : ` ${findingReason(cell, worst)}.`;
    return `${findingReason(cell, past)}.${also}`;
  }
  if (worst !== null && (taken === null || worst.ratio > (taken.worst?.ratio ?? 0) + 0.02)) {
    return `${findingReason(cell, worst)} (${times(worst.ratio)} its rule, at ${worst.inCase}).`;
  }
  const most = (of: SizeCell): number => Math.max(...of.cases.map(({ p95PressureKPa }) => p95PressureKPa));
  return `As near as the one taken, but presses more: 95th percentile ${most(cell).toFixed(1)} kPa against ${most(taken!).toFixed(1)} kPa.`;
}

/** The furthest bearing past the last rib, of all cases. */
function worstPastRib({ cases }: SizeCell): SizeFinding | null {
  const past = cases.flatMap(({ findings }) => findings.filter(({ code }) => code === 'past-last-rib'));
  return past.reduce<SizeFinding | null>((most, one) => (most === null || one.sizeMm > most.sizeMm ? one : most), null);
}

const times = (ratio: number): string => `${ratio.toFixed(1)} times`;

function seatReason({ seat, seatMm, barLengthMm, roomMm }: SizeCell, range: SeatRange): string {
  const usual = `this rider's ${inches(range.fromIn)} to ${inches(range.toIn)} (from memory, no source)`;
  if (seatMm < range.fromIn * MM_PER_IN) return `Seat ${seat} is shorter than ${usual}.`;
  const room =
    barLengthMm > roomMm
      ? `, and its ${mm(barLengthMm)} bar is longer than the ${mm(roomMm)} that this back has room for`
      : '';
  return `Seat ${seat} is longer than ${usual}${room}.`;
}

const SAYS: Readonly<Record<FindingCode, (cell: SizeCell, finding: SizeFinding) => string>> = {
  'past-last-rib': ({ seat, barLengthMm, roomMm }, { sizeMm }) =>
    `The rider wants a seat of ${seat}, the seat a bar of ${mm(barLengthMm)}; this back has room for ${mm(roomMm)}: bearing passes the last rib by ${mm(sizeMm)}`,
  bridging: ({ barLengthMm, fitted }, { sizeMm }) =>
    `It bridges by ${sizeMm.toFixed(1)} mm: ${mm(barLengthMm)} of bar with too little rock for this back${rockWanted(fitted)}`,
  rocking: ({ fitted }, { sizeMm }) =>
    `It rocks by ${sizeMm.toFixed(1)} mm: more rock than this back has${rockWanted(fitted)}`,
  'too-steep': ({ fitted }, { sizeMm }) =>
    `Too steep (narrow): the inner edge stands ${sizeMm.toFixed(1)} mm clear; a wide back needs a wide tree, padding does not make room${slopesWanted(fitted)}`,
  'too-flat': ({ fitted }, { sizeMm }) =>
    `Too flat (wide): the outer edge stands ${sizeMm.toFixed(1)} mm clear${slopesWanted(fitted)}`,
  'inner-edge-bearing': () => 'It bears on the inner edge',
  'outer-edge-bearing': () => 'It bears on the outer edge',
  'pressure-point': () => 'It has a place that presses far above its surroundings',
  'layer-solid': (_, { sizeMm }) => `A layer is squeezed solid: ${sizeMm.toFixed(1)} mm more than its rule`,
  'blade-under-tip': (_, { sizeMm }) =>
    `The shoulder blade presses its tip: ${sizeMm.toFixed(1)} mm of squeeze ahead of the blade edge`,
  'over-flex': (_, { sizeMm }) => `The bars give ${sizeMm.toFixed(1)} mm between fork and cantle`,
  'low-spine-clearance': (_, { sizeMm }) => `Too little room over the spine: short by ${sizeMm.toFixed(0)} mm`,
  'sensitive-to-set-position': () => 'What it shows changes with the set position',
  'off-the-data': () => 'It reaches beyond what was measured',
  'cannot-tell': () => 'It cannot be told from these measurements',
};

const findingReason = (cell: SizeCell, finding: SizeFinding): string => SAYS[finding.code](cell, finding);

const rockWanted = ({ rockRadiusMm }: SizeCell['fitted']): string =>
  rockRadiusMm === null ? '' : ` (radius ${mm(rockRadiusMm)} would lie as it does)`;

const slopesWanted = ({ slopesDeg }: SizeCell['fitted']): string =>
  slopesDeg === null
    ? ''
    : ` (slopes ${slopesDeg.map((deg) => deg.toFixed(0)).join(' / ')} degrees would lie as it does)`;

/** What the back and the rider ask for, from the nearest tree that the shelf has. */
export function needsOf(cell: SizeCell, range: SeatRange): string[] {
  const { fitted, roomMm, barLengthMm, seatMm } = cell;
  const overhang = barLengthMm - seatMm;
  const longest = (roomMm - overhang) / MM_PER_IN;
  const isTooShort = longest < range.fromIn;
  return [
    ...(fitted.slopesDeg === null
      ? []
      : [`Slopes near ${fitted.slopesDeg.map((deg) => deg.toFixed(0)).join(' / ')} degrees, front to rear.`]),
    ...(fitted.rockRadiusMm === null ? [] : [`Rock near radius ${mm(fitted.rockRadiusMm)} along the bearing line.`]),
    `A bar of at most ${mm(roomMm)} in this set position: a seat of ${inches(longest)} at this shelf's bar length over the seat.`,
    ...(isTooShort
      ? [
          `This rider wants ${inches(range.fromIn)} or more (from memory, no source): on this back no bar gives both. A shorter overhang behind the seat, a lifted rear tip, or another horse for this rider.`,
        ]
      : []),
  ];
}
