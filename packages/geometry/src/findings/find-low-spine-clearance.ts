import { mm, type Observation, ruleWords } from './observation.ts';
import type { Reading } from './reading.ts';

interface Room {
  readonly what: 'fork' | 'along' | 'channel';
  readonly place: string;
  valueMm(reading: Reading): number | null;
  ruleMm(reading: Reading): number;
  where(reading: Reading): readonly [number, number];
}

/** Room over the spine at the fork and along the ground seat, and beside it between the inner edges; loaded. */
const ROOMS: readonly Room[] = [
  {
    what: 'fork',
    place: 'Spine clearance under the fork',
    valueMm: (r) => r.spine.atForkMm,
    ruleMm: (r) => r.rules.spineForkMm,
    where: (r) => stretch(r, 0, r.seated.tree.parts.forkBackMm),
  },
  {
    what: 'along',
    place: 'Spine clearance along the seat',
    valueMm: (r) => r.spine.alongMm,
    ruleMm: (r) => r.rules.spineAlongMm,
    where: (r) => stretch(r, r.seated.tree.parts.groundSeatFromMm, r.seated.tree.parts.groundSeatToMm),
  },
  {
    what: 'channel',
    place: 'Spine channel between the inner edges',
    valueMm: (r) => r.spine.channelMm,
    ruleMm: (r) => r.rules.spineChannelMm,
    where: (r) => stretch(r, 0, r.seated.samples.lengthMm),
  },
];

export function findLowSpineClearance(reading: Reading): Observation[] {
  return ROOMS.flatMap((room) => {
    const value = room.valueMm(reading);
    const rule = room.ruleMm(reading);
    return value === null || value >= rule ? [] : [observe(reading, room, value, rule)];
  });
}

function observe(reading: Reading, room: Room, value: number, rule: number): Observation {
  const [fromMm, toMm] = room.where(reading);
  const measuredMm = room.what === 'channel' ? 0 : reading.seated.back.measured.uncertaintyMm;
  return {
    code: 'low-spine-clearance',
    side: 'both',
    fromMm,
    toMm,
    sizeMm: rule - value,
    ratio: 1 + (rule - value) / rule,
    withinMeasuringError: rule - value <= measuredMm,
    sizeIn: (other) => {
      const again = room.valueMm(other);
      return again === null ? null : Math.max(0, rule - again);
    },
    rule: ruleWords(reading.rules, `${rule} mm`),
    say: () =>
      value < 0
        ? `${room.place} is used up: the tree meets the spine by ${mm(-value)}`
        : `${room.place} is ${mm(value)}, ${mm(rule - value)} short`,
  };
}

function stretch({ seated }: Reading, fromB: number, toB: number): [number, number] {
  const tipX = seated.seat.pose.xMm + seated.samples.frontTipXMm;
  return [tipX + fromB, tipX + toB];
}
