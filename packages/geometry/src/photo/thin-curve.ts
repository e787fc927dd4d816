import type { SheetPoint } from '../drawing/index.ts';

/**
 * Leaves out points that lie within a distance of the line through those kept (Douglas & Peucker 1973, from memory).
 * Ends are kept.
 */
export function thinCurve(points: readonly SheetPoint[], toleranceMm: number): SheetPoint[] {
  if (points.length < 3) return [...points];
  const kept = new Uint8Array(points.length);
  kept[0] = kept[points.length - 1] = 1;
  const open: [number, number][] = [[0, points.length - 1]];
  for (let range = open.pop(); range !== undefined; range = open.pop()) {
    const [from, to] = range;
    const [a, b] = [points[from]!, points[to]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    let farthest = -1;
    let most = toleranceMm;
    for (let i = from + 1; i < to; i++) {
      const [dx, dy] = [points[i]![0] - a[0], points[i]![1] - a[1]];
      const away = length > 0 ? Math.abs(dx * (b[1] - a[1]) - dy * (b[0] - a[0])) / length : Math.hypot(dx, dy);
      if (away <= most) continue;
      most = away;
      farthest = i;
    }
    if (farthest < 0) continue;
    kept[farthest] = 1;
    open.push([from, farthest], [farthest, to]);
  }
  return points.filter((_, i) => kept[i] === 1);
}
