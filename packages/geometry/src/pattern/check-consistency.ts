import { InputError } from '../numeric/input-error.ts';
import { DEG_PER_RAD, formatLength } from '../units/index.ts';
import { spreadDrivenByGullet } from './gullet-width.ts';
import { stationKey } from './list-fields.ts';
import type { PatternDocument } from './pattern-schema.ts';
import { GULLET_WIDTH } from './read-pattern.ts';
import type { BarParameters, PatternRemark, SharedParameters } from './resolve-pattern.ts';

/** Steepest tangent a section may reach at its outer edge; a height field can't hold a wall. */
const STEEPEST_RAD = 85 / DEG_PER_RAD;
/** Share of the rock radius that the bar may reach from its low point; at 1 the arc is vertical. */
const ARC_SHARE = 0.95;

/** Refuses values that are each in range and together make no bar. Throws InputError 'inconsistent'. */
export function checkConsistency(bar: BarParameters, shared: SharedParameters, place: string): void {
  const refuse = (key: string, got: string, expected: string, remedy: string): never => {
    throw new InputError({ code: 'inconsistent', field: `${place}.${key}`, got, expected, remedy });
  };
  const mm = (value: number): string => formatLength(value, 'mm');
  const zones = bar.flareZoneFrontMm + bar.flareZoneRearMm;
  if (zones > bar.lengthMm) {
    refuse('flareZoneFront', mm(zones), `both flare zones within ${mm(bar.lengthMm)}`, 'Shorten a zone');
  }
  for (const [key, tipMm] of [
    ['tipLengthFront', bar.tipLengthFrontMm],
    ['tipLengthRear', bar.tipLengthRearMm],
  ] as const) {
    if (tipMm <= bar.lengthMm / 2) continue;
    refuse(key, mm(tipMm), `at most half the bar, ${mm(bar.lengthMm / 2)}`, 'Shorten the tip');
  }
  for (const [key, fromMm, toMm] of feetOf(shared)) {
    if (Math.max(fromMm, toMm) > 0 && Math.min(fromMm, toMm) < bar.lengthMm) continue;
    refuse(key, `${mm(fromMm)} to ${mm(toMm)}`, `a foot on the bar of ${mm(bar.lengthMm)}`, 'Move the foot');
  }
  const reach = Math.max(bar.rockLowPointMm, bar.lengthMm - bar.rockLowPointMm);
  if (reach * bar.rockCurvaturePerMm > ARC_SHARE) {
    refuse('rockRadius', mm(1 / bar.rockCurvaturePerMm), `more than ${mm(reach / ARC_SHARE)}`, 'Enlarge the radius');
  }
  if (bar.slotCentreMm - bar.slotLengthMm / 2 < 0 || bar.slotCentreMm + bar.slotLengthMm / 2 > bar.lengthMm) {
    refuse('slotCentre', mm(bar.slotCentreMm), 'the slot within the bar', 'Move or shorten the slot');
  }
  if (shared.cantleFrontMm <= shared.forkBackMm) {
    refuse('cantleFront', mm(shared.cantleFrontMm), 'the cantle behind the fork', 'Move the cantle or the fork');
  }
  if (shared.groundSeatToMm < shared.groundSeatFromMm) {
    refuse('groundSeatTo', mm(shared.groundSeatToMm), 'its end behind its beginning', 'Swap or move them');
  }
  for (const station of bar.stations) {
    const halfAngle = Math.asin(Math.min(1, (station.widthMm * station.crownCurvaturePerMm) / 2));
    if (station.slopeRad + halfAngle <= STEEPEST_RAD) continue;
    refuse(
      stationKey('crown', station.name),
      `slope ${(station.slopeRad * DEG_PER_RAD).toFixed(1)} deg and ${(halfAngle * DEG_PER_RAD).toFixed(1)} deg of crown`,
      'a section that stays clear of vertical',
      'Enlarge the crown radius, or lower the slope or the width',
    );
  }
}

/** Each foot by the value that begins it, as written: its end may lie ahead of its beginning. */
const feetOf = (shared: SharedParameters): readonly (readonly [key: string, fromMm: number, toMm: number])[] => [
  ['forkFootFrom', shared.forkFootFromMm, shared.forkFootToMm],
  ['cantleFootFrom', shared.cantleFootFromMm, shared.cantleFootToMm],
];

/** What is unusual or only noted. */
export function listRemarks(
  document: PatternDocument,
  right: BarParameters,
  left: BarParameters,
  shared: SharedParameters,
): PatternRemark[] {
  const remarks: PatternRemark[] = [];
  const say = (field: string, sentence: string): number => remarks.push({ field, sentence });
  if (shared.cantleFrontMm > shared.lengthMm) say('cantleFront', 'The front of the cantle lies behind the rear tip.');
  if (shared.forkFootToMm > shared.cantleFootFromMm) {
    say('forkFootTo', "The fork's foot reaches behind the beginning of the cantle's.");
  }
  for (const [key, fromMm, toMm] of feetOf(shared)) {
    const which = key === 'forkFootFrom' ? 'fork' : 'cantle';
    if (Math.max(fromMm, toMm) > shared.lengthMm) say(key, `The ${which}'s foot reaches beyond the rear tip.`);
    if (toMm < fromMm) say(key, `The ${which}'s foot ends ahead of its beginning: taken the other way round.`);
  }
  if (shared.seatLowMm > shared.lengthMm) say('seatLow', "The seat's low point lies behind the rear tip.");
  for (const [bar, side] of [
    [right, 'right'],
    [left, 'left'],
  ] as const) {
    if (side === 'left' && left === right) continue;
    remarkOnTips(bar, side, say);
    for (const { name, bearingInsetMm, widthMm, slopeRad } of bar.stations) {
      if (bearingInsetMm >= 0 && bearingInsetMm <= widthMm * Math.cos(slopeRad)) continue;
      say(stationKey('bearingInset', name), `The bearing line runs off the ${side} bar at the ${name} station.`);
    }
  }
  if (Object.hasOwn(document.values, GULLET_WIDTH) && spreadDrivenByGullet(document) === null) {
    say(
      GULLET_WIDTH,
      `Gullet width ${document.values[GULLET_WIDTH]} ${document.answers[GULLET_WIDTH]}: kept as a note.`,
    );
  }
  return remarks;
}

function remarkOnTips(bar: BarParameters, side: string, say: (field: string, sentence: string) => number): void {
  if (bar.tipEdgeThicknessMm > bar.tipThicknessMm) {
    say('tipEdgeThickness', `The ${side} tips are thicker at the edge than at the root.`);
  }
  const thinnest = Math.min(...[bar.stations[0]!, bar.stations[bar.stations.length - 1]!].map((s) => s.thicknessMm));
  if (bar.tipThicknessMm > thinnest && bar.tipLengthFrontMm + bar.tipLengthRearMm > 0) {
    say('tipThickness', `The ${side} tips are thicker at the root than the bar there.`);
  }
}
