import type { Finding, FindingCode, FitResult } from './fit-result.ts';

/** What a comparison reads of a fit; also of one that was kept in a file. */
export type ComparedFit = Pick<FitResult, 'contact' | 'findings'>;

/**
 * What changed from one fit to another that area and mean pressure alone would hide (TRADE 4: they can lie). Plain
 * sentences; empty where there is nothing of the kind to say. Never ranks one above the other.
 */
export function compareFits({ contact: a }: ComparedFit, { contact: b }: ComparedFit): string[] {
  const known = [a, b].every((c) => [c.meanPressureKPa, c.p95PressureKPa, c.shareMiddle].every(Number.isFinite));
  if (!known) return [];
  const out: string[] = [];
  const move = (from: number, to: number, unit: string): string =>
    `from ${from.toFixed(1)} to ${to.toFixed(1)} ${unit}`;
  const [more, less] = ['rises', 'falls'];
  // Either order of naming the two: the one with more area has the lower mean and the higher 95th percentile.
  const sign = Math.sign(b.areaCm2 - a.areaCm2);
  const isMasked =
    sign !== 0 &&
    sign * (b.meanPressureKPa - a.meanPressureKPa) < 0 &&
    sign * (b.p95PressureKPa - a.p95PressureKPa) > 0;
  if (isMasked) {
    const [up, down] = sign > 0 ? [more, less] : [less, more];
    out.push(
      `Contact area ${up} (${move(a.areaCm2, b.areaCm2, 'cm2')}) and the mean ${down} ` +
        `(${move(a.meanPressureKPa, b.meanPressureKPa, 'kPa')}), but the 95th percentile ${up} ` +
        `(${move(a.p95PressureKPa, b.p95PressureKPa, 'kPa')}): more area is not a closer fit here.`,
    );
  }
  const [from, to] = [100 * a.shareMiddle, 100 * b.shareMiddle];
  if (Math.abs(to - from) >= 5) out.push(`The middle third's share goes ${move(from, to, '%')}.`);
  return out;
}

export type FindingMove = 'comes' | 'goes' | 'grows' | 'shrinks' | 'stays';

/** One kind of finding on one side (or both alike), from one fit to the other. */
export interface FindingChange {
  readonly code: FindingCode;
  readonly side: Finding['side'];
  readonly change: FindingMove;
  /** Largest size of the kind there; null where the fit has none. */
  readonly beforeMm: number | null;
  readonly afterMm: number | null;
  /** Whether what is found lies within the back's measuring error of its rule: then its coming or going can't be told. */
  readonly withinMeasuringError: boolean;
}

/** Sizes closer than this are the same: our own judgement, far above the error of the grid. */
export const SAME_SIZE_MM = 0.5;

/** Which findings come, go, grow and shrink, in the order of the fits' own lists. Sides that do the same are named once. */
export function compareFindings(before: ComparedFit, after: ComparedFit): FindingChange[] {
  const codes = [...new Set([...after.findings, ...before.findings].map(({ code }) => code))];
  return codes
    .filter((code) => code !== 'cannot-tell')
    .flatMap((code) => {
      const [left, right] = (['left', 'right'] as const).map((side) => changeOn(before, after, code, side));
      const isAlike = left?.change === right?.change && left?.withinMeasuringError === right?.withinMeasuringError;
      if (left && right && isAlike) return [bothSides(left, right)];
      return [left, right].filter((change) => change !== null && change !== undefined);
    });
}

function changeOn(
  before: ComparedFit,
  after: ComparedFit,
  code: FindingCode,
  side: 'left' | 'right',
): FindingChange | null {
  const largest = ({ findings }: ComparedFit): Finding | null =>
    findings
      .filter((f) => f.code === code && (f.side === side || f.side === 'both'))
      .reduce<Finding | null>((most, f) => (most === null || f.sizeMm > most.sizeMm ? f : most), null);
  const [a, b] = [largest(before), largest(after)];
  if (a === null && b === null) return null;
  const change = a === null ? 'comes' : b === null ? 'goes' : moveOf(b.sizeMm - a.sizeMm);
  const isDoubtful = change === 'goes' ? a!.withinMeasuringError : (b?.withinMeasuringError ?? false);
  return {
    ...{ code, side, change, beforeMm: a?.sizeMm ?? null, afterMm: b?.sizeMm ?? null },
    withinMeasuringError: isDoubtful,
  };
}

const moveOf = (deltaMm: number): FindingMove =>
  deltaMm > SAME_SIZE_MM ? 'grows' : deltaMm < -SAME_SIZE_MM ? 'shrinks' : 'stays';

function bothSides(left: FindingChange, right: FindingChange): FindingChange {
  const larger = (a: number | null, b: number | null): number | null =>
    a === null || b === null ? (a ?? b) : Math.max(a, b);
  return {
    ...left,
    side: 'both',
    beforeMm: larger(left.beforeMm, right.beforeMm),
    afterMm: larger(left.afterMm, right.afterMm),
  };
}
