import { type TracingsBackDocument, tracingsBackSchema } from '@barwright/geometry';
import { PHOTO_TEXTS } from '../../look/texts/photo.ts';
import { NOT_STATED } from '../record-draft.ts';
import { faultsOf, heightMm, stationMm } from './line-fields.ts';
import { type DocumentCurve, isSameAsked, type PhotoAnswers } from './photo-answers.ts';
import { type PhotoWork, partsOf } from './photo-work.ts';

const T = PHOTO_TEXTS.out;

/** As many as a document holds. */
const MOST_CURVES = 60;

export interface Gathered {
  readonly curves: readonly DocumentCurve[];
  /** What still stands in the way of going on, in words; null when nothing does. */
  readonly missing: string | null;
}

/** All curves that were read, and whether they are enough and up to date. */
export function gatherCurves(work: PhotoWork, answers: PhotoAnswers['lines']): Gathered {
  const curves: DocumentCurve[] = [];
  for (const photo of work.photos) {
    for (const line of photo.lines) {
      if (line.points.length === 0 || line.partOf !== null) continue;
      const fault = Object.values(faultsOf(line, work))[0];
      if (fault !== undefined) return { curves: [], missing: T.missing.fault(line.name, fault) };
      if (line.points.length < 2) return { curves: [], missing: T.missing.onePoint(line.name) };
      const answer = answers[line.id];
      const parts = partsOf(work, line.id).filter((part) => part.line.points.length > 1);
      if (answer === undefined || !isSameAsked(answer.asked, { photo, line, parts }))
        return { curves: [], missing: T.missing.reading(line.name) };
      if (answer.value === null) return { curves: [], missing: T.missing.unread(line.name) };
      curves.push(answer.value.curve);
    }
  }
  const across = curves.filter(({ kind }) => kind === 'cross').length;
  const missing =
    curves.length > MOST_CURVES
      ? T.missing.tooMany(curves.length, MOST_CURVES)
      : across === 0
        ? T.missing.none
        : across === 1
          ? T.missing.one
          : null;
  return { curves, missing };
}

/** Lines across without a station are asked about with the tracings. */
export const withoutStation = (work: PhotoWork): readonly string[] =>
  work.photos.flatMap(({ lines }) =>
    lines
      .filter((line) => line.points.length > 1 && line.partOf === null && stationMm(line) === null)
      .map(({ name }) => name),
  );

/** Whether nothing says how high the sections lie to each other: no heights typed, no line along the spine. */
export function heightsUnsaid(work: PhotoWork): boolean {
  const lines = work.photos.flatMap((photo) =>
    photo.lines.filter(({ points, partOf }) => points.length > 1 && partOf === null),
  );
  return lines.every(({ kind }) => kind === 'cross') && new Set(lines.map(heightMm)).size === 1;
}

/**
 * Sections lifted so that each meets the lengthwise curve where it crosses the midline. A section beyond that curve's
 * ends stays as it is.
 */
export function liftToSpine(curves: readonly DocumentCurve[]): readonly DocumentCurve[] {
  const spine = curves.find(({ kind }) => kind === 'lengthwise');
  if (spine === undefined) return curves;
  return curves.map((curve) => {
    if (curve.kind !== 'cross' || typeof curve.stationMm !== 'number') return curve;
    const there = heightAt(spine.points, curve.stationMm);
    const here = heightAt(curve.points, 0);
    if (there === null || here === null) return curve;
    const lift = there - here;
    const points = curve.points.map((p): [number, number] => [p[0]!, p[1]! + lift]);
    const level = curve.level ? { level: { ...curve.level, point: [...points[0]!] } } : {};
    return { ...curve, ...level, points };
  });
}

function heightAt(points: DocumentCurve['points'], at: number): number | null {
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    if ((a[0]! - at) * (b[0]! - at) > 0 || a[0] === b[0]) continue;
    return a[1]! + ((at - a[0]!) / (b[0]! - a[0]!)) * (b[1]! - a[1]!);
  }
  return null;
}

/** The document as the tracings desk takes it; who measured and how well is asked there. */
export function documentOf(curves: readonly DocumentCurve[], today: string): TracingsBackDocument {
  return tracingsBackSchema.parse({
    schema: 'barwright/back/1',
    kind: 'tracings',
    name: T.back.name,
    unit: 'mm',
    curves,
    measured: { by: NOT_STATED, on: today, uncertaintyMm: 3, uncertaintyDeg: 2 },
    record: { surface: 'bare', how: T.back.how },
  });
}
