import type { StationMismatch } from '../seating/index.ts';
import type { Side } from '../spatial/index.ts';
import { largest, mm, type Observation, ruleWords, SIDES } from './observation.ts';
import type { Reading } from './reading.ts';

const RADIANS = Math.PI / 180;

/** Too steep (narrow) and too flat (wide): bar slope against back slope at matched feet, laid on, by station. */
export function findCrosswise(reading: Reading): Observation[] {
  return SIDES.flatMap((side) => [...stretches(reading, side, 1), ...stretches(reading, side, -1)]);
}

/** One observation for each unbroken run of stations that are over the rule in the same direction. */
function stretches(reading: Reading, side: Side, sign: 1 | -1): Observation[] {
  const stations = reading.mismatch.stations.filter((s) => s.side === side);
  const out: Observation[] = [];
  let run: StationMismatch[] = [];
  const close = (): void => {
    if (run.length > 0) out.push(observe(reading, side, sign, run));
    run = [];
  };
  for (const station of stations) {
    if (sign * station.mismatchDeg > reading.rules.slopeDeg) run.push(station);
    else close();
  }
  close();
  return out;
}

/** Room a mismatch opens across the bearing width at one station, mm: width x sin. */
function openingMm(reading: Reading, side: Side, station: StationMismatch): number {
  const bar = reading.seated.tree[side];
  const width = bar.row(station.bMm).chordWidthMm * (1 - 2 * bar.shape.reliefFraction);
  return width * Math.sin(station.mismatchDeg * RADIANS);
}

function observe(reading: Reading, side: Side, sign: 1 | -1, run: readonly StationMismatch[]): Observation {
  const { rules, seated } = reading;
  const opening = (s: StationMismatch): number => sign * openingMm(reading, side, s);
  const worst = run.reduce((a, b) => (opening(b) > opening(a) ? b : a));
  const degrees = Math.max(...run.map((s) => Math.abs(s.mismatchDeg)));
  const names = new Set(run.map((s) => s.name));
  return {
    code: sign > 0 ? 'too-steep' : 'too-flat',
    side,
    fromMm: run[0]!.xMm,
    toMm: run[run.length - 1]!.xMm,
    sizeMm: opening(worst),
    ratio: degrees / rules.slopeDeg,
    withinMeasuringError: degrees - rules.slopeDeg <= seated.back.measured.uncertaintyDeg,
    sizeIn(other) {
      const again = other.mismatch.stations.filter((s) => s.side === side && names.has(s.name));
      return again.length < run.length ? null : largest(again.map((s) => sign * openingMm(other, side, s)));
    },
    rule: ruleWords(rules, `${rules.slopeDeg} degrees`),
    say: (where) => sentence(reading, where, sign, worst, opening(worst), run),
  };
}

function sentence(
  { rules, seated }: Reading,
  where: string,
  sign: 1 | -1,
  worst: StationMismatch,
  size: number,
  run: readonly StationMismatch[],
): string {
  const word = sign > 0 ? 'Too steep (narrow)' : 'Too flat (wide)';
  const edge =
    sign > 0
      ? 'outer, lower edge bears and the inner edge stands'
      : 'inner, upper edge bears and the outer edge stands';
  const places = run.map((s) => s.name).join(', ');
  const degrees = Math.abs(worst.mismatchDeg).toFixed(1);
  const pad =
    sign > 0 && seated.stack.thicknessMm > rules.padMm
      ? `; ${mm(seated.stack.thicknessMm)} of layers lift the tree but padding does not make room`
      : '';
  return (
    `${word} at ${places} on ${where}: by ${degrees} degrees at ${worst.name}, so the ${edge} ${mm(size)} clear when ` +
    `laid on${pad}`
  );
}
