import type { BackSurface } from './back-surface.ts';
import { alignBacks, type BackMotion, NO_MOTION } from './compare-backs-align.ts';
import { compareSentences } from './compare-backs-sentences.ts';

/** A stretch of the back that is known to have changed, or that is not to be trusted; horse frame, mm. */
export interface KeepOut {
  readonly fromXMm: number;
  readonly toXMm: number;
  readonly fromYMm: number;
  readonly toYMm: number;
}

export interface CompareBacksOptions {
  /** 'landmarks': both frames as they are. 'best fit': the later one laid on the earlier one where they agree best. */
  readonly align: 'landmarks' | 'best fit';
  /** Left out of the best fit; shown in the map all the same. */
  readonly keepOut?: readonly KeepOut[];
  readonly stepXMm?: number;
  readonly stepYMm?: number;
}

export interface CompareRow {
  readonly xMm: number;
  readonly yMm: number;
  /** Height of the earlier back; NaN where either has no data. */
  readonly beforeMm: number;
  /** Height of the later back after alignment. */
  readonly afterMm: number;
  /** After minus before, straight up, + fuller. */
  readonly differenceMm: number;
  /** Less than this can't be told from measuring error. */
  readonly limitMm: number;
}

export interface BackComparison {
  readonly rows: readonly CompareRow[];
  /** How the later back was moved to lie on the earlier one. */
  readonly motion: BackMotion;
  readonly regions: readonly CompareRegion[];
  /** The compared stretch ends here, the blade edge being 0: the nearer of both last ribs, mm. */
  readonly endXMm: number;
  readonly sentences: readonly string[];
}

export interface CompareRegion {
  readonly side: 'left' | 'right';
  readonly third: 'front' | 'middle' | 'rear';
  readonly meanMm: number;
  /** Root mean square of the limits. Errors of measuring go together, so averaging does not lower it. */
  readonly limitMm: number;
  /** Share of the region's grid with data on both backs. */
  readonly coverage: number;
}

export const COMPARE_DEFAULTS = Object.freeze({ stepXMm: 10, stepYMm: 10, outermostYMm: 200, bearingLineYMm: 120 });

/**
 * What changed between two backs of one horse: heights on a grid from the blade edge to the last rib, |y| up to 200 mm.
 *
 * The limit of what can be shown is the root of the sum of squares of both backs' stated errors: the height error, and the
 * slope error times the distance from the bearing line, about which a section tilts. Tracings count their own error where
 * it is larger.
 */
export function compareBacks(before: BackSurface, after: BackSurface, options: CompareBacksOptions): BackComparison {
  const endX = Math.min(before.landmarks.lastRib[0], after.landmarks.lastRib[0]);
  const motion = options.align === 'landmarks' ? NO_MOTION : alignBacks(before, after, endX, options.keepOut ?? []);
  const stepX = options.stepXMm ?? COMPARE_DEFAULTS.stepXMm;
  const stepY = options.stepYMm ?? COMPARE_DEFAULTS.stepYMm;
  const rows: CompareRow[] = [];
  for (let x = 0; x <= endX; x += stepX) {
    for (let y = -COMPARE_DEFAULTS.outermostYMm; y <= COMPARE_DEFAULTS.outermostYMm; y += stepY) {
      const beforeMm = before.heightMm(x, y);
      const afterMm = motion.heightMm(after, x, y);
      const limitMm = Math.hypot(errorMm(before, x, y), errorMm(after, x, y));
      rows.push({ xMm: x, yMm: y, beforeMm, afterMm, differenceMm: afterMm - beforeMm, limitMm });
    }
  }
  const regions = regionsOf(rows, endX);
  const sentences = compareSentences(before, after, motion, rows, regions);
  return { rows, motion, regions, endXMm: endX, sentences };
}

function errorMm({ measured, uncertaintyAt }: BackSurface, x: number, y: number): number {
  const own = uncertaintyAt?.(x) ?? 0;
  const height = Math.max(measured.uncertaintyMm, Number.isNaN(own) ? 0 : own);
  const tilt = Math.abs(Math.abs(y) - COMPARE_DEFAULTS.bearingLineYMm);
  return Math.hypot(height, tilt * Math.tan((measured.uncertaintyDeg * Math.PI) / 180));
}

function regionsOf(rows: readonly CompareRow[], endX: number): CompareRegion[] {
  const thirds = ['front', 'middle', 'rear'] as const;
  return (['left', 'right'] as const).flatMap((side) =>
    thirds.map((third, i) => {
      const within = rows.filter(
        ({ xMm, yMm }) =>
          (side === 'left' ? yMm < 0 : yMm > 0) && Math.min(2, Math.floor((3 * xMm) / Math.max(endX, 1))) === i,
      );
      const known = within.filter(({ differenceMm }) => !Number.isNaN(differenceMm));
      const n = known.length;
      return {
        side,
        third,
        meanMm: n === 0 ? Number.NaN : known.reduce((sum, row) => sum + row.differenceMm, 0) / n,
        limitMm: n === 0 ? Number.NaN : Math.sqrt(known.reduce((sum, row) => sum + row.limitMm ** 2, 0) / n),
        coverage: within.length === 0 ? 0 : n / within.length,
      };
    }),
  );
}
