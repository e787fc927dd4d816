import type { InputErrorDetails, TracingsBackDocument } from '@barwright/geometry';
import { TRACINGS_TEXTS } from '../../look/texts/tracings.ts';

const T = TRACINGS_TEXTS.middle;

type Curve = TracingsBackDocument['curves'][number];

/** Where a drawing's y starts is the page's edge, not the spine: curves across that were drawn so can be moved. */
export const isOffTheMiddle = (refusal: InputErrorDetails | null, document: TracingsBackDocument): boolean =>
  refusal?.code === 'degenerate' && (refusal.field ?? '').startsWith('curves.') && document.curves.some(isWholeOnPaper);

const isWholeOnPaper = ({ kind, side, points }: Curve): boolean =>
  kind === 'cross' && points[0]!.length === 2 && side !== 'left' && side !== 'right';

type Middle = keyof typeof T.ways;

interface MiddleQuestionProps {
  readonly document: TracingsBackDocument;
  readonly onDocument: (document: TracingsBackDocument) => void;
}

export function MiddleQuestion({ document, onDocument }: MiddleQuestionProps) {
  return (
    <fieldset className="question asked">
      <legend>{T.question}</legend>
      <p className="small">{T.why}</p>
      <div className="question-choices">
        {(Object.keys(T.ways) as Middle[]).map((way) => (
          <button key={way} type="button" onClick={() => onDocument(moved(document, way))}>
            {T.ways[way]}
          </button>
        ))}
      </div>
    </fieldset>
  );
}

function moved(document: TracingsBackDocument, way: Middle): TracingsBackDocument {
  return {
    ...document,
    curves: document.curves.map((curve) => (isWholeOnPaper(curve) ? onMiddle(curve, way) : curve)),
  };
}

function onMiddle(curve: Curve, way: Middle): Curve {
  const points = curve.points as readonly [number, number][];
  const y = points.map((p) => p[0]);
  const top = points.reduce((a, b) => (b[1] > a[1] ? b : a));
  const middle = way === 'highest' ? top[0] : (Math.min(...y) + Math.max(...y)) / 2;
  const { level } = curve;
  return {
    ...curve,
    points: points.map(([a, z]): [number, number] => [a - middle, z]),
    ...(level === undefined || level === null
      ? {}
      : { level: { ...level, point: [level.point[0]! - middle, ...level.point.slice(1)] } }),
  };
}
