import { compareFindings, compareFits, FINDING_WORDS, type FindingChange, type FitResult } from '@barwright/geometry';
import {
  angleFigure,
  areaFigure,
  type FigureParts,
  figureText,
  forceFigure,
  gapFigure,
  lengthFigure,
  pressureFigure,
  shareFigure,
  type Units,
} from '../../look/format.ts';
import { sentenceIn } from '../../look/sentence.ts';
import { TEXTS } from '../../look/texts.ts';
import type { CompareRow } from './compare-row.ts';

const T = TEXTS.compare;

interface OutputFigure {
  readonly key: string;
  readonly of: (result: FitResult) => number | null;
  readonly show: (value: number | null, units: Units) => FigureParts;
}

const gap = (value: number | null, units: Units): FigureParts => gapFigure(value, units);

/** Area and mean never stand without p95, peak and thirds. */
const FIGURES: readonly OutputFigure[] = [
  { key: 'load', of: (r) => r.load.appliedN, show: forceFigure },
  { key: 'area', of: (r) => r.contact.areaCm2, show: areaFigure },
  { key: 'mean', of: (r) => r.contact.meanPressureKPa, show: pressureFigure },
  { key: 'p95', of: (r) => r.contact.p95PressureKPa, show: pressureFigure },
  { key: 'peak', of: (r) => r.contact.peakPressureKPa, show: pressureFigure },
  { key: 'shareFront', of: (r) => r.contact.shareFront, show: (v) => shareFigure(v) },
  { key: 'shareMiddle', of: (r) => r.contact.shareMiddle, show: (v) => shareFigure(v) },
  { key: 'shareRear', of: (r) => r.contact.shareRear, show: (v) => shareFigure(v) },
  { key: 'shareLeft', of: (r) => r.contact.shareLeft, show: (v) => shareFigure(v) },
  { key: 'lengthwiseLeft', of: (r) => r.mismatch.lengthwiseLeftMm, show: gap },
  { key: 'lengthwiseRight', of: (r) => r.mismatch.lengthwiseRightMm, show: gap },
  { key: 'gapMin', of: (r) => r.gap.minMm, show: gap },
  { key: 'gapMiddle', of: (r) => r.gap.middleMm, show: gap },
  { key: 'gapMax', of: (r) => r.gap.maxMm, show: gap },
  { key: 'spine', of: (r) => r.spine.atForkMm, show: (v, units) => lengthFigure(v, units, { decimals: 0 }) },
  { key: 'pitch', of: (r) => r.pose.pitchDeg, show: (v) => angleFigure(v, true) },
  { key: 'roll', of: (r) => r.pose.rollDeg, show: (v) => angleFigure(v, true) },
  { key: 'excluded', of: (r) => r.coverage.excludedFraction, show: (v) => shareFigure(v, 1) },
];

/** Figures of each result side by side; equal where what is shown is the same. */
export function outputRows(results: readonly FitResult[], units: Units): CompareRow[] {
  const status: CompareRow = { key: 'status', label: T.figures.status, cells: results.map(({ status }) => status) };
  const figures = FIGURES.map(
    ({ key, of, show }): CompareRow => ({
      key,
      label: T.figures[key as keyof typeof T.figures],
      cells: results.map((result) => figureText(show(of(result), units))),
    }),
  );
  return [status, ...figures, ...findingRows(results, units)];
}

function findingRows(results: readonly FitResult[], units: Units): CompareRow[] {
  const codes = [...new Set(results.flatMap(({ findings }) => findings.map(({ code }) => code)))];
  return codes.map((code) => ({
    key: `finding ${code}`,
    label: `${T.finding}: ${FINDING_WORDS[code]}`,
    cells: results.map(({ findings }) => {
      const own = findings.filter((finding) => finding.code === code);
      if (own.length === 0) return T.none;
      return own
        .map(({ side, sizeMm, withinMeasuringError }) => {
          const size = code === 'cannot-tell' ? '' : ` ${figureText(gapFigure(sizeMm, units))}`;
          return `${side}${size}${withinMeasuringError ? `, ${T.withinError}` : ''}`;
        })
        .join('; ');
    }),
  }));
}

/** Contact, and shape, in a line each: what stands over each drawing. */
export function keyFigureWords({ status, contact, mismatch }: FitResult, units: Units): [string, string] {
  const pressure = (kPa: number): string => figureText(pressureFigure(kPa, units));
  const lengthwise = [mismatch.lengthwiseLeftMm, mismatch.lengthwiseRightMm].map((mm) =>
    figureText(gapFigure(mm, units)),
  );
  const said = status === 'settled' ? '' : `${T.status(status)}; `;
  return [
    `${said}${T.contactWords(figureText(areaFigure(contact.areaCm2, units)), pressure(contact.meanPressureKPa), pressure(contact.p95PressureKPa), pressure(contact.peakPressureKPa))}`,
    T.mismatchWords(lengthwise[0]!, lengthwise[1]!),
  ];
}

/** What changes from one result to the other, in sentences; none of them ranks. */
export function changeSentences(
  before: { readonly letter: string; readonly result: FitResult },
  after: { readonly letter: string; readonly result: FitResult },
  units: Units,
): string[] {
  const changes = compareFindings(before.result, after.result).filter(({ change }) => change !== 'stays');
  const fits = compareFits(before.result, after.result).map((sentence) => sentenceIn(sentence, units));
  return [...fits, ...changes.map((change) => findingWords(change, units))].map((sentence) =>
    T.fromTo(before.letter, after.letter, sentence),
  );
}

function findingWords(
  { code, side, change, beforeMm, afterMm, withinMeasuringError }: FindingChange,
  units: Units,
): string {
  const size = (mm: number | null): string => figureText(gapFigure(mm, units));
  const sizes =
    beforeMm === null ? size(afterMm) : afterMm === null ? size(beforeMm) : `${size(beforeMm)} → ${size(afterMm)}`;
  const where = side === 'both' ? TEXTS.both : side;
  return `${FINDING_WORDS[code]} (${where}) ${change}, ${sizes}${withinMeasuringError ? `; ${T.withinError}` : ''}.`;
}
