import { figure } from './pressure-map-text.ts';

/** A place on the page that is already used, with the radius to keep clear. */
export interface LabelPlace {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

export interface ContourLine {
  readonly level: number;
  readonly points: readonly (readonly [number, number])[];
}

export interface ContourLabel {
  readonly x: number;
  readonly y: number;
  readonly level: number;
  readonly text: string;
}

/** Lines shorter than this carry no figure, page units. */
const SHORTEST = 34;
const RADIUS = 13;
/** One more figure for each so much of line. */
const REPEAT = 230;

/** Figures for contour lines: as near the middle of each as there is room. None comes near a taken place. */
export function placeLabels(lines: readonly ContourLine[], given: readonly LabelPlace[]): ContourLabel[] {
  const taken = [...given];
  const labels: ContourLabel[] = [];
  const measured = lines.map((line) => ({ ...line, along: distances(line.points) }));
  for (const { level, points, along } of measured.sort((a, b) => b.along.at(-1)! - a.along.at(-1)!)) {
    const length = along.at(-1)!;
    if (length < SHORTEST) continue;
    const wanted = 1 + Math.floor(length / REPEAT);
    for (let k = 0; k < wanted; k++) {
      const label = freePlace(points, along, ((k + 0.5) / wanted) * length, taken);
      if (label === null) continue;
      taken.push({ ...label, radius: RADIUS });
      labels.push({ ...label, level, text: figure(level, Number.isInteger(level) ? 0 : 1) });
    }
  }
  return labels;
}

function distances(points: ContourLine['points']): number[] {
  let sum = 0;
  return points.map(([x, y], i) => {
    if (i > 0) sum += Math.hypot(x - points[i - 1]![0], y - points[i - 1]![1]);
    return sum;
  });
}

function freePlace(
  points: ContourLine['points'],
  along: readonly number[],
  wanted: number,
  taken: readonly LabelPlace[],
): { x: number; y: number } | null {
  const room = 10;
  const order = along
    .map((at, i) => ({ i, off: Math.abs(at - wanted) }))
    .filter(({ i }) => along[i]! >= room && along[i]! <= along.at(-1)! - room)
    .sort((a, b) => a.off - b.off);
  for (const { i } of order) {
    const [x, y] = points[i]!;
    if (taken.some((place) => Math.hypot(place.x - x, place.y - y) < place.radius + RADIUS)) continue;
    return { x, y };
  }
  return null;
}
