import {
  buildTracingsBack,
  gapsBetween,
  InputError,
  type InputErrorDetails,
  prepareTracings,
  readBack,
  readTracingsCsv,
  readTracingsSvg,
  type TracedStation,
  type TracingQuestion,
  type TracingsBackDocument,
  uncertaintyIn,
} from '@barwright/geometry';
import { TRACINGS_TEXTS } from '../../look/texts/tracings.ts';

const T = TRACINGS_TEXTS.desk;

/** One station as it would be built; pairs y (to the right), z (up), mm. */
export interface LaidStation {
  readonly ids: readonly string[];
  readonly xMm: number;
  readonly leftMm: number;
  readonly rightMm: number;
  readonly points: Float64Array;
  readonly line: Float64Array;
}

/** A curve that has no place among the stations: left out, or waiting for an answer. Pairs y, z as traced, mm. */
export interface LooseCurve {
  readonly id: string;
  readonly points: Float64Array;
}

export interface LaidGap {
  readonly fromMm: number;
  readonly toMm: number;
  /** Measured and interpolated together, half-way. */
  readonly uncertaintyMm: number;
}

export interface AnsweredQuestion {
  readonly question: TracingQuestion;
  readonly answer: string;
}

/** Tracings as they stand with the answers given, for drawing: x towards the tail from the tracings' own origin, mm. */
export interface TracingsLayout {
  readonly stations: readonly LaidStation[];
  readonly loose: readonly LooseCurve[];
  /** Triples x, y, z. */
  readonly lengthwise: readonly { readonly id: string; readonly points: Float64Array }[];
  readonly gaps: readonly LaidGap[];
  readonly open: readonly TracingQuestion[];
  readonly answered: readonly AnsweredQuestion[];
  readonly warnings: readonly string[];
  /** Why these curves can't be read as sections at all, or null. */
  readonly refusal: InputErrorDetails | null;
}

export interface TracingsOutcome {
  readonly worstMm: number;
  readonly worstCurve: string;
  readonly usableMm: number;
  readonly warnings: readonly string[];
}

export const tracingsService = {
  /** Curves of a CSV or SVG file as a document, and what was left out of it. The unit counts for CSV only. */
  readTracings(
    bytes: Uint8Array,
    fileName: string,
    unit: TracingsBackDocument['unit'],
    measured: TracingsBackDocument['measured'],
    axes?: NonNullable<TracingsBackDocument['axes']>,
  ): { document: TracingsBackDocument; warnings: readonly string[] } {
    const name = fileName.replace(/\.[^.]*$/, '').slice(0, 200) || T.unnamed;
    if (/\.svg$/i.test(fileName)) return readTracingsSvg(bytes, fileName, { name, measured });
    return readTracingsCsv(bytes, fileName, { name, unit, measured, ...(axes === undefined ? {} : { axes }) });
  },

  /** A tracings document that was opened, checked. */
  readTracingsDocument(json: unknown, fileName: string): TracingsBackDocument {
    const document = readBack(json, fileName);
    if (document.kind === 'tracings') return document;
    throw new InputError({
      code: 'unsupported',
      file: fileName,
      field: 'kind',
      got: document.kind,
      expected: 'tracings',
      remedy: T.openOnBench,
    });
  },

  layOutTracings(document: TracingsBackDocument): TracingsLayout {
    try {
      return layOut(document);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      const nothing = { stations: [], lengthwise: [], gaps: [], open: [], answered: [], warnings: [] };
      return { ...nothing, loose: looseCurves(document, []), refusal: error.details };
    }
  },

  /** The back as it would stand on the bench. Refused while a question is open. */
  tryTracings(document: TracingsBackDocument): TracingsOutcome {
    const { back, report } = buildTracingsBack(document);
    const { bladeEdgeLeft, bladeEdgeRight, lastRib } = back.landmarks;
    return {
      worstMm: report.worstMm,
      worstCurve: report.worstCurve,
      usableMm: lastRib[0] - Math.max(bladeEdgeLeft[0], bladeEdgeRight[0]),
      warnings: back.warnings,
    };
  },
};

function layOut(document: TracingsBackDocument): TracingsLayout {
  const first = prepareTracings(document);
  // While the unit is open there are no stations; the drawing then shows the stated unit's.
  const asStated = { ...document, answers: { ...document.answers, unit: document.unit } };
  const isUnitOpen = first.questions.some(({ id }) => id === 'unit');
  const shown = isUnitOpen ? prepareTracings(asStated) : first;
  const { stations, lengthwise } = shown;
  const gaps = stations.length < 2 ? [] : gapsBetween(stations);
  return {
    stations: stations.map(laid),
    loose: looseCurves(
      document,
      stations.flatMap(({ ids }) => ids),
    ),
    lengthwise: lengthwise.map(({ id, points }) => ({ id, points: Float64Array.from(points.flat()) })),
    gaps: gaps.map((gap) => ({
      fromMm: gap.fromMm,
      toMm: gap.toMm,
      uncertaintyMm: uncertaintyIn([gap], document.measured.uncertaintyMm, (gap.fromMm + gap.toMm) / 2),
    })),
    open: first.questions,
    answered: answeredOf(document),
    warnings: [...new Set(shown.warnings)],
    refusal: null,
  };
}

const LINE_STEP_MM = 4;

function laid(station: TracedStation): LaidStation {
  const { ids, xMm, leftMm, rightMm, points, curve } = station;
  const line: number[] = [];
  const to = points.at(-1)![0];
  for (let y = points[0]![0]; y < to; y += LINE_STEP_MM) line.push(y, curve.heightAt(y));
  line.push(to, curve.heightAt(to));
  return { ids, xMm, leftMm, rightMm, points: Float64Array.from(points.flat()), line: Float64Array.from(line) };
}

const UNIT_MM = { mm: 1, cm: 10, m: 1000, in: 25.4 } as const;

/** Curves as traced that are in no station. */
function looseCurves(document: TracingsBackDocument, placed: readonly string[]): LooseCurve[] {
  const answer = document.answers?.unit;
  const unit =
    answer !== undefined && Object.hasOwn(UNIT_MM, answer) ? (answer as keyof typeof UNIT_MM) : document.unit;
  const pick = (axis: string): ((p: readonly number[]) => number) => {
    const scale = (axis.startsWith('-') ? -1 : 1) * UNIT_MM[unit];
    const k = 'xyz'.indexOf(axis[1]!);
    return (p) => scale * p[k]!;
  };
  const right = pick(document.axes?.right ?? '+y');
  const up = pick(document.axes?.up ?? '+z');
  const scale = UNIT_MM[unit];
  return document.curves
    .filter(({ id, kind }) => kind === 'cross' && !placed.includes(id))
    .map(({ id, points }) => ({
      id,
      points: Float64Array.from(
        points.flatMap((p) => (p.length === 2 ? [p[0] * scale, p[1] * scale] : [right(p), up(p)])),
      ),
    }));
}

/** Each answered question as it was put: found by taking its answer away. */
function answeredOf(document: TracingsBackDocument): AnsweredQuestion[] {
  return Object.entries(document.answers ?? {}).flatMap(([id, answer]) => {
    const { [id]: _, ...others } = document.answers ?? {};
    const question = prepareTracings({ ...document, answers: others }).questions.find((asked) => asked.id === id);
    return question === undefined ? [] : [{ question, answer }];
  });
}
