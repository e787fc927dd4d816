import type { SheetPoint } from '../drawing/index.ts';

export interface JoinedCurve {
  /** From left to right. */
  readonly points: readonly SheetPoint[];
  /** Largest distance between two pieces where both are, mm; 0 without an overlap. */
  readonly apartMm: number;
  /** Largest gap between neighbouring pieces without an overlap, mm; 0 where all overlap. */
  readonly gapMm: number;
}

/**
 * One curve of pieces in one frame, each from left to right or right to left. Where two overlap, the one fades into the
 * other, so the curve has no step.
 */
export function joinPieces(pieces: readonly (readonly SheetPoint[])[]): JoinedCurve {
  const ordered = pieces
    .map((piece) => (piece[0]![0] <= piece[piece.length - 1]![0] ? piece : [...piece].reverse()))
    .sort((a, b) => a[0]![0] - b[0]![0]);
  let points = ordered[0]!;
  let apartMm = 0;
  let gapMm = 0;
  for (const piece of ordered.slice(1)) {
    const from = piece[0]![0];
    const to = points[points.length - 1]![0];
    if (piece[piece.length - 1]![0] <= to) {
      // Wholly within what is there already: it only says how well they agree.
      apartMm = Math.max(apartMm, ...piece.map((p) => awayFrom(points, p)));
      continue;
    }
    if (to <= from) {
      gapMm = Math.max(gapMm, Math.hypot(from - to, piece[0]![1] - points[points.length - 1]![1]));
      points = [...points, ...piece];
      continue;
    }
    const both = [...points.filter(([y]) => y > from), ...piece.filter(([y]) => y < to)].sort((a, b) => a[0] - b[0]);
    apartMm = Math.max(apartMm, ...piece.filter(([y]) => y < to).map((p) => awayFrom(points, p)));
    const faded = both.map(([y]): SheetPoint => {
      const share = (y - from) / (to - from);
      return [y, (1 - share) * heightAt(points, y) + share * heightAt(piece, y)];
    });
    points = [...points.filter(([y]) => y <= from), ...faded, ...piece.filter(([y]) => y >= to)];
  }
  return { points, apartMm, gapMm };
}

/** Height of a curve from left to right at a place; its ends' beyond them. */
function heightAt(points: readonly SheetPoint[], y: number): number {
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    if (y < a[0] || y > b[0] || b[0] === a[0]) continue;
    return a[1] + ((y - a[0]) / (b[0] - a[0])) * (b[1] - a[1]);
  }
  return y < points[0]![0] ? points[0]![1] : points[points.length - 1]![1];
}

/** Distance of a point from a curve, mm. */
function awayFrom(points: readonly SheetPoint[], p: SheetPoint): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const long = dx * dx + dy * dy;
    const t = long > 0 ? Math.max(0, Math.min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long)) : 0;
    least = Math.min(least, Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy));
  }
  return least;
}
