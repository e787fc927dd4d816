import { InputError } from '../numeric/index.ts';
import { cleanTracing } from './tracings-clean.ts';
import type { CrossCurve } from './tracings-curves.ts';
import type { AnswerSheet } from './tracings-questions.ts';
import { type SmoothCurve, smoothCurve } from './tracings-smooth.ts';

/** One station's section. A side that wasn't traced has limit 0 and the other side's mirror image in the curve. */
export interface TracedStation {
  readonly ids: readonly string[];
  readonly xMm: number;
  readonly curve: SmoothCurve;
  /** Traced distance from the midline, mm. */
  readonly leftMm: number;
  readonly rightMm: number;
  readonly points: readonly (readonly [number, number])[];
}

/** Tracings nearer than this lie at one station, mm. */
const SAME_STATION_MM = 1;
/** A side counts as traced from here, mm. */
const LEAST_SIDE_MM = 40;
const NEAR_MIDLINE_MM = 15;
const APART_MM = 3;

/**
 * Sections by station, rising x: halves of one station joined, two tracings of the same thing asked about.
 * @throws InputError as cleanTracing, and 'degenerate' where a half starts too far from the midline
 */
export function gatherStations(curves: readonly CrossCurve[], sheet: AnswerSheet, warnings: string[]): TracedStation[] {
  askAboutOrder(curves, sheet);
  const sorted = [...curves].sort((a, b) => a.xMm - b.xMm);
  const groups: CrossCurve[][] = [];
  for (const curve of sorted) {
    const group = groups[groups.length - 1];
    if (group !== undefined && curve.xMm - group[0]!.xMm < SAME_STATION_MM) group.push(curve);
    else groups.push([curve]);
  }
  return groups.map((group) => stationOf(settleSameStation(group, sheet), warnings));
}

function askAboutOrder(curves: readonly CrossCurve[], sheet: AnswerSheet): void {
  const steps = curves.slice(1).map((c, i) => c.xMm - curves[i]!.xMm);
  const back = steps.findIndex((step) => step < -SAME_STATION_MM);
  if (back < 0 || !steps.some((step) => step > SAME_STATION_MM)) return;
  sheet.ask({
    id: 'order',
    question: 'The tracings are not in order along the horse. Are their stations right?',
    choices: [{ id: 'sort', meaning: 'yes: sort them by station, as is done meanwhile' }],
    evidence: `"${curves[back + 1]!.id}" lies ${(-steps[back]!).toFixed(0)} mm ahead of "${curves[back]!.id}" before it`,
    blocking: false,
  });
}

/** At most one curve per side, or one for both. */
function settleSameStation(group: readonly CrossCurve[], sheet: AnswerSheet): CrossCurve[] {
  const kept: CrossCurve[] = [];
  for (const curve of group) {
    const rival = kept.findIndex((k) => k.side === curve.side || k.side === 'both' || curve.side === 'both');
    if (rival < 0) {
      kept.push(curve);
      continue;
    }
    const other = kept[rival]!;
    const answer = sheet.ask({
      id: `same-station:${other.id}+${curve.id}`,
      question: `Which tracing holds at x = ${curve.xMm.toFixed(0)} mm?`,
      choices: [
        { id: 'first', meaning: `"${other.id}"` },
        { id: 'second', meaning: `"${curve.id}"` },
      ],
      evidence: `"${other.id}" and "${curve.id}" lie at the same station and on the same side`,
    });
    if (answer === 'second') kept[rival] = curve;
  }
  return kept;
}

function stationOf(curves: readonly CrossCurve[], warnings: string[]): TracedStation {
  const parts = curves.map((curve) => {
    const clean = cleanTracing(curve.id, curve.points);
    warnings.push(...clean.warnings);
    return clean.y.map((y, i) => [y, clean.z[i]!] as const);
  });
  const ids = curves.map((curve) => curve.id);
  const points = joinHalves(parts, ids, warnings);
  const from = points[0]![0];
  const to = points[points.length - 1]![0];
  const leftMm = -from >= LEAST_SIDE_MM ? -from : 0;
  const rightMm = to >= LEAST_SIDE_MM ? to : 0;
  if (leftMm > 0 && rightMm > 0) return { ids, xMm: curves[0]!.xMm, leftMm, rightMm, points, curve: through(points) };
  const sign = rightMm > 0 ? 1 : -1;
  const half = points.filter((p) => sign * p[0] >= 0);
  if (half.length < 3 || Math.min(...half.map((p) => Math.abs(p[0]))) > LEAST_SIDE_MM) throw noMiddle(ids[0]!, half);
  const inner = half.reduce((a, b) => (Math.abs(b[0]) < Math.abs(a[0]) ? b : a));
  const mirror = half.filter((p) => p !== inner || p[0] !== 0).map((p) => [-p[0], p[1]] as const);
  const whole = [...mirror, ...half].sort((a, b) => a[0] - b[0]);
  return { ids, xMm: curves[0]!.xMm, leftMm, rightMm, points: half, curve: through(whole) };
}

function noMiddle(id: string, half: readonly unknown[]): InputError {
  return new InputError({
    code: 'degenerate',
    field: `curves.${id}`,
    got: `${half.length} points on its side, none within ${LEAST_SIDE_MM} mm of the midline`,
    expected: 'a tracing that starts at the midline, y = 0 there',
    remedy: 'Measure y from the middle of the spine.',
  });
}

const through = (points: readonly (readonly [number, number])[]): SmoothCurve =>
  smoothCurve(
    points.map((p) => p[0]),
    points.map((p) => p[1]),
  );

function joinHalves(
  parts: readonly (readonly (readonly [number, number])[])[],
  ids: readonly string[],
  warnings: string[],
) {
  if (parts.length === 1) return parts[0]!;
  const middles = parts.map((part) => part.reduce((a, b) => (Math.abs(b[0]) < Math.abs(a[0]) ? b : a)));
  const apart = Math.abs(middles[0]![1] - middles[1]![1]);
  if (Math.max(...middles.map((m) => Math.abs(m[0]))) < NEAR_MIDLINE_MM && apart > APART_MM) {
    warnings.push(`"${ids[0]}" and "${ids[1]}" are ${apart.toFixed(1)} mm apart in height where they meet.`);
  }
  const sorted = parts.flat().sort((a, b) => a[0] - b[0]);
  const out: (readonly [number, number])[] = [];
  for (const p of sorted) {
    const last = out[out.length - 1];
    if (last !== undefined && p[0] - last[0] < 0.5) out[out.length - 1] = [(last[0] + p[0]) / 2, (last[1] + p[1]) / 2];
    else out.push(p);
  }
  return out;
}

/** The same station with left and right exchanged about a midline at y = middleMm. */
export function mirrorStation(station: TracedStation, middleMm: number): TracedStation {
  const { curve } = station;
  return {
    ...station,
    leftMm: station.rightMm === 0 ? 0 : Math.max(0, station.rightMm - 2 * middleMm),
    rightMm: station.leftMm === 0 ? 0 : Math.max(0, station.leftMm + 2 * middleMm),
    points: station.points.map((p) => [2 * middleMm - p[0], p[1]] as const).reverse(),
    curve: {
      ...curve,
      fromYMm: 2 * middleMm - curve.toYMm,
      toYMm: 2 * middleMm - curve.fromYMm,
      worstYMm: 2 * middleMm - curve.worstYMm,
      at: (y) => {
        const [value, first, second] = curve.at(2 * middleMm - y);
        return [value, -first, second];
      },
      heightAt: (y) => curve.heightAt(2 * middleMm - y),
    },
  };
}

/** The same station moved up or down. */
export function liftStation(station: TracedStation, byMm: number): TracedStation {
  const { curve } = station;
  return {
    ...station,
    points: station.points.map((p) => [p[0], p[1] + byMm] as const),
    curve: {
      ...curve,
      at: (y) => {
        const [value, first, second] = curve.at(y);
        return [value + byMm, first, second];
      },
      heightAt: (y) => curve.heightAt(y) + byMm,
    },
  };
}
