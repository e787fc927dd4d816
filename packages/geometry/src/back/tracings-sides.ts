import type { AnswerSheet } from './tracings-questions.ts';
import { mirrorStation, type TracedStation } from './tracings-stations.ts';

/** Where sides are compared, mm from the midline. */
const FROM_Y_MM = 20;
const TO_Y_MM = 200;
const STEP_MM = 10;
/** Sides compared over less than this many places say nothing. */
const LEAST_PLACES = 6;
const NEIGHBOURS = 4;
/** Exchanged sides must fit the neighbours better by this much, root mean square, and by this share. Our own rule. */
const BETTER_BY_MM = 0.5;
const BETTER_SHARE = 0.85;

interface Misfit {
  readonly asLabelledMm: number;
  readonly exchangedMm: number;
}

/** y of the horse's midplane at a station, in the tracings' frame. */
export type Midline = (xMm: number) => number;

/** A station seen from the horse's midplane. */
interface Sides {
  readonly xMm: number;
  readonly leftMm: number;
  readonly rightMm: number;
  /** Height at a distance from the midplane, + right. */
  heightAt(asideMm: number): number;
}

function seenFrom(station: TracedStation, middleMm: number): Sides {
  return {
    xMm: station.xMm,
    leftMm: station.leftMm === 0 ? 0 : Math.max(0, station.leftMm + middleMm),
    rightMm: station.rightMm === 0 ? 0 : Math.max(0, station.rightMm - middleMm),
    heightAt: (aside) => station.curve.at(middleMm + aside)[0],
  };
}

const exchanged = (sides: Sides): Sides => ({
  xMm: sides.xMm,
  leftMm: sides.rightMm,
  rightMm: sides.leftMm,
  heightAt: (aside) => sides.heightAt(-aside),
});

interface Doubt extends Misfit {
  readonly station: number;
  /** A neighbour whose exchange would settle the doubt as well: the tracings can't say which of the two is wrong. */
  readonly rival: number | null;
}

/**
 * Asks about every station whose left fits its neighbours' right better (TRADE 8.20). The most doubtful one is taken
 * first and seen exchanged from then on, so that one wrong label does not put its neighbours in doubt.
 */
export function settleSides(stations: readonly TracedStation[], midline: Midline, sheet: AnswerSheet): TracedStation[] {
  const seen = stations.map((station) => seenFrom(station, midline(station.xMm)));
  const doubts: Doubt[] = [];
  for (let doubt = worstDoubt(seen, doubts); doubt !== null; doubt = worstDoubt(seen, doubts)) {
    doubts.push(doubt);
    seen[doubt.station] = exchanged(seen[doubt.station]!);
  }
  const settled: (TracedStation | null)[] = [...stations];
  for (const doubt of doubts) {
    const places = doubt.rival === null ? [doubt.station] : [doubt.station, doubt.rival];
    const answer = askAbout(
      places.map((k) => stations[k]!),
      doubt,
      sheet,
    );
    for (const k of places) {
      if (answer === 'leave-out') settled[k] = null;
      if (answer === swapWord(stations[k]!)) settled[k] = mirrorStation(stations[k]!, midline(stations[k]!.xMm));
    }
  }
  return settled.filter((station) => station !== null);
}

function worstDoubt(seen: readonly Sides[], known: readonly Doubt[]): Doubt | null {
  let worst: Doubt | null = null;
  for (let i = 0; i < seen.length; i++) {
    if (known.some((d) => d.station === i || d.rival === i)) continue;
    const misfit = misfitOf(seen, i);
    if (misfit === null || !isDoubtful(misfit) || gainOf(misfit) <= (worst === null ? 0 : gainOf(worst))) continue;
    worst = { ...misfit, station: i, rival: rivalOf(seen, i) };
  }
  return worst;
}

const gainOf = (misfit: Misfit): number => misfit.asLabelledMm - misfit.exchangedMm;

/** The station beside this one whose exchange, instead of this one's, would leave neither in doubt. */
function rivalOf(seen: readonly Sides[], i: number): number | null {
  for (const k of [i - 1, i + 1]) {
    if (seen[k] === undefined) continue;
    const other = seen.map((s, at) => (at === k ? exchanged(s) : s));
    const settled = [i - 1, i, i + 1].every((at) => {
      const misfit = other[at] === undefined ? null : misfitOf(other, at);
      return misfit === null || !isDoubtful(misfit);
    });
    if (settled) return k;
  }
  return null;
}

const swapWord = (station: TracedStation): string => `swap ${station.ids.join('+')}`;

function askAbout(stations: readonly TracedStation[], misfit: Misfit, sheet: AnswerSheet): string | null {
  const names = stations.map((s) => `"${s.ids.join('" and "')}", at x = ${s.xMm.toFixed(0)} mm`);
  const [same, other] = [misfit.asLabelledMm.toFixed(1), misfit.exchangedMm.toFixed(1)];
  return sheet.ask({
    id: `left-right:${stations.map((s) => s.ids.join('+')).join('|')}`,
    question: `Are left and right exchanged on ${names.join(', or on ')}?`,
    choices: [
      ...stations.map((s) => ({
        id: swapWord(s),
        meaning: `yes: exchange left and right of "${s.ids.join('" and "')}"`,
      })),
      { id: 'keep', meaning: 'no: the labels are right, the horse is like that' },
      { id: 'leave-out', meaning: `not known: build the back without ${stations.length > 1 ? 'these two' : 'it'}` },
    ],
    evidence: `the sides of "${stations[0]!.ids.join('" and "')}" differ from the neighbouring stations' by ${same} mm as labelled and ${other} mm exchanged (root mean square)${stations.length > 1 ? `; exchanging "${stations[1]!.ids.join('" and "')}" instead would settle it as well` : ''}`,
  });
}

const isDoubtful = ({ asLabelledMm, exchangedMm }: Misfit): boolean =>
  asLabelledMm - exchangedMm > BETTER_BY_MM && exchangedMm < BETTER_SHARE * asLabelledMm;

function misfitOf(stations: readonly Sides[], i: number): Misfit | null {
  const own = stations[i]!;
  const others = stations
    .filter((s, k) => k !== i && s.leftMm > 0 && s.rightMm > 0)
    .sort((a, b) => Math.abs(a.xMm - own.xMm) - Math.abs(b.xMm - own.xMm))
    .slice(0, NEIGHBOURS);
  if (others.length === 0) return null;
  return own.leftMm > 0 && own.rightMm > 0 ? twoSided(own, others) : oneSided(own, others);
}

/** Differences left less right, with the neighbours' and against them. */
function twoSided(own: Sides, others: readonly Sides[]): Misfit | null {
  let same = 0;
  let exchanged = 0;
  let places = 0;
  for (let y = FROM_Y_MM; y <= TO_Y_MM; y += STEP_MM) {
    if (y > Math.min(own.leftMm, own.rightMm)) break;
    const theirs = weighted(own, others, y, (s) => s.heightAt(-y) - s.heightAt(y));
    if (theirs === null) break;
    const mine = own.heightAt(-y) - own.heightAt(y);
    same += (mine - theirs) ** 2;
    exchanged += (mine + theirs) ** 2;
    places++;
  }
  return misfit(same, exchanged, places);
}

/** One side alone against both sides of the stations ahead and behind. */
function oneSided(own: Sides, others: readonly Sides[]): Misfit | null {
  const ahead = others.find((s) => s.xMm < own.xMm);
  const behind = others.find((s) => s.xMm > own.xMm);
  if (ahead === undefined || behind === undefined) return null;
  const sign = own.leftMm > 0 ? -1 : 1;
  const share = (own.xMm - ahead.xMm) / (behind.xMm - ahead.xMm);
  const fall = (s: Sides, y: number): number => s.heightAt(y) - s.heightAt(0);
  const theirs = (y: number): number => (1 - share) * fall(ahead, y) + share * fall(behind, y);
  const reach = Math.min(own.leftMm + own.rightMm, ...[ahead, behind].map((s) => Math.min(s.leftMm, s.rightMm)));
  let same = 0;
  let exchanged = 0;
  let places = 0;
  for (let y = FROM_Y_MM; y <= Math.min(TO_Y_MM, reach); y += STEP_MM) {
    const mine = fall(own, sign * y);
    same += (mine - theirs(sign * y)) ** 2;
    exchanged += (mine - theirs(-sign * y)) ** 2;
    places++;
  }
  return misfit(same, exchanged, places);
}

/** Mean over the neighbours that reach y, nearer ones counting more. */
function weighted(own: Sides, others: readonly Sides[], y: number, value: (s: Sides) => number): number | null {
  let sum = 0;
  let weight = 0;
  for (const other of others) {
    if (y > Math.min(other.leftMm, other.rightMm)) continue;
    const w = 1 / Math.abs(other.xMm - own.xMm);
    sum += w * value(other);
    weight += w;
  }
  return weight > 0 ? sum / weight : null;
}

const misfit = (same: number, exchanged: number, places: number): Misfit | null =>
  places < LEAST_PLACES ? null : { asLabelledMm: Math.sqrt(same / places), exchangedMm: Math.sqrt(exchanged / places) };
