import { curveToPaper, type PaperPlane, type PhotoTracing } from '@barwright/geometry';
import type { DocumentCurve } from './photo-answers.ts';
import type { LineRequest } from './photo-service.ts';
import type { Px } from './photo-work.ts';

/**
 * A curve as read from paper, brought to the horse: heights from its level line plus that line's own height, right as the
 * horse's right (or towards the tail), a lengthwise curve from its station. mm.
 */
export function curveOnHorse(
  tracing: PhotoTracing,
  { line, stationMm, heightMm }: LineRequest,
  plane: PaperPlane,
): DocumentCurve {
  const { curve, levelDeg } = tracing;
  const liftMm = heightMm - levelHeight(line.level, plane, levelDeg);
  const sign = line.toRight === 'left' || line.toRight === 'head' ? -1 : 1;
  const fromMm = line.kind === 'lengthwise' ? (stationMm ?? 0) : 0;
  const moved = curve.points.map((p): [number, number] => [fromMm + sign * p[0]!, p[1]! + liftMm]);
  const points = sign < 0 ? moved.reverse() : moved;
  const level = curve.level ? { level: { point: [...points[0]!], direction: [1, 0] as [number, number] } } : {};
  return { ...curve, ...level, points };
}

/** Height of a drawn level line after the turn that makes it level; a printed one is the paper's own zero. */
function levelHeight(level: readonly [Px, Px] | null, plane: PaperPlane, deg: number): number {
  if (level === null) return 0;
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  const ends = curveToPaper(level, plane).map(([right, up]) => c * up - s * right);
  return (ends[0]! + ends[1]!) / 2;
}

export function lengthOf(points: readonly Px[]): number {
  let sum = 0;
  for (let i = 1; i < points.length; i++) {
    sum += Math.hypot(points[i]![0] - points[i - 1]![0], points[i]![1] - points[i - 1]![1]);
  }
  return sum;
}
