import type { BackSurface } from './back-surface.ts';
import { type BackComparison, type CompareRegion, compareBacks, type KeepOut } from './compare-backs.ts';
import type { BackDocument } from './read-back.ts';

export type ChangeReading =
  | 'fuller'
  | 'lower'
  | 'changed in part'
  | 'within measuring error'
  | 'depends on how they are laid together'
  | 'no data';

/** One sixth of the back, laid together both ways. */
export interface RegionChange {
  readonly side: 'left' | 'right';
  readonly third: 'front' | 'middle' | 'rear';
  readonly fromXMm: number;
  readonly toXMm: number;
  /** Mean change, + fuller; laid together where they agree best, and by their landmarks. */
  readonly bestFitMm: number;
  readonly landmarksMm: number;
  /** Less than this can't be told from measuring error. */
  readonly limitMm: number;
  readonly coverage: number;
  /** Share of the region's grid that differs by more than its own limit; the smaller of both ways. */
  readonly shownShare: number;
  readonly reading: ChangeReading;
}

export interface BackChange {
  readonly bestFit: BackComparison;
  readonly landmarks: BackComparison;
  readonly regions: readonly RegionChange[];
  /** Why the two may not be one horse; empty where nothing speaks against it. */
  readonly doubts: readonly string[];
}

/** What documents know of the horse and surfaces do not. */
export type HorseFacts = Pick<BackDocument, 'record'> & { readonly withersHeightMm?: number | undefined };

/** From this share of a region on, single places beyond their limits are told: fewer are hairs and hands. Our own judgement. */
const PART_SHARE = 0.1;

/** Bones keep their distances. Our own judgement, no source: two careful hands agree this well on one grown horse. */
const SAME_HORSE = Object.freeze({ usableLengthMm: 50, withersHeightMm: 40 });

/**
 * Two backs laid together both ways. A region is called changed only where both ways show it beyond the limit: landmarks
 * alone carry their own error, a best fit alone hides what changed everywhere alike.
 */
export function changeOfBack(
  before: { readonly back: BackSurface; readonly facts: HorseFacts },
  after: { readonly back: BackSurface; readonly facts: HorseFacts },
  keepOut: readonly KeepOut[] = [],
): BackChange {
  const bestFit = compareBacks(before.back, after.back, { align: 'best fit', keepOut });
  const landmarks = compareBacks(before.back, after.back, { align: 'landmarks' });
  const third = bestFit.endXMm / 3;
  const regions = bestFit.regions.map((best, i): RegionChange => {
    const marked = landmarks.regions[i]!;
    const at = ['front', 'middle', 'rear'].indexOf(best.third);
    const share = Math.min(shownShare(bestFit, best, at), shownShare(landmarks, best, at));
    return {
      ...{ side: best.side, third: best.third, fromXMm: at * third, toXMm: (at + 1) * third },
      ...{ bestFitMm: best.meanMm, landmarksMm: marked.meanMm, limitMm: best.limitMm, coverage: best.coverage },
      shownShare: share,
      reading: readingOf(best, marked, share),
    };
  });
  return { bestFit, landmarks, regions, doubts: doubtsOf(before, after, bestFit) };
}

function shownShare({ rows, endXMm }: BackComparison, { side }: CompareRegion, third: number): number {
  const within = rows.filter(
    ({ xMm, yMm, differenceMm }) =>
      (side === 'left' ? yMm < 0 : yMm > 0) &&
      Math.min(2, Math.floor((3 * xMm) / Math.max(endXMm, 1))) === third &&
      !Number.isNaN(differenceMm),
  );
  const shown = within.filter(({ differenceMm, limitMm }) => Math.abs(differenceMm) > limitMm);
  return within.length === 0 ? 0 : shown.length / within.length;
}

function readingOf(best: CompareRegion, marked: CompareRegion, share: number): ChangeReading {
  if (Number.isNaN(best.meanMm)) return 'no data';
  const shown = ({ meanMm, limitMm }: CompareRegion): number => (Math.abs(meanMm) > limitMm ? Math.sign(meanMm) : 0);
  const [a, b] = [shown(best), shown(marked)];
  if (a !== b) return 'depends on how they are laid together';
  if (a === 0) return share >= PART_SHARE ? 'changed in part' : 'within measuring error';
  return a > 0 ? 'fuller' : 'lower';
}

function doubtsOf(
  before: { readonly back: BackSurface; readonly facts: HorseFacts },
  after: { readonly back: BackSurface; readonly facts: HorseFacts },
  { motion, rows }: BackComparison,
): string[] {
  const out: string[] = [];
  const [a, b] = [before.facts.record?.horse, after.facts.record?.horse];
  if (a !== undefined && b !== undefined && plain(a) !== plain(b)) out.push(`The records name ${a} and ${b}.`);
  const differ = (what: string, from: number | undefined, to: number | undefined, most: number): void => {
    if (from === undefined || to === undefined || Math.abs(to - from) <= most) return;
    out.push(
      `${what} is ${from.toFixed(0)} mm and ${to.toFixed(0)} mm; more than ${most} mm apart is not one grown horse (our own judgement, no source).`,
    );
  };
  differ('Withers height', before.facts.withersHeightMm, after.facts.withersHeightMm, SAME_HORSE.withersHeightMm);
  const length = ({ back }: { readonly back: BackSurface }): number => back.landmarks.lastRib[0];
  differ('Blade edge to last rib', length(before), length(after), SAME_HORSE.usableLengthMm);
  if (motion.atBound) out.push('No small motion lays them together: it came to rest at its bound.');
  const known = rows.filter(({ differenceMm }) => !Number.isNaN(differenceMm));
  if (known.length === 0) return [...out, 'The two have no data in common.'];
  const limit = Math.sqrt(known.reduce((sum, { limitMm }) => sum + limitMm ** 2, 0) / known.length);
  if (motion.residualMm > limit) {
    out.push(
      `Even the half that agrees best differs by ${motion.residualMm.toFixed(1)} mm, more than measuring twice explains (${limit.toFixed(1)} mm).`,
    );
  }
  return out;
}

const plain = (name: string): string => name.trim().toLowerCase().replace(/\s+/g, ' ');
