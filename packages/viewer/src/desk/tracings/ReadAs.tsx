import type { TracingsBackDocument } from '@barwright/geometry';
import { figureText, lengthFigure, type Units } from '../../look/format.ts';
import { TRACINGS_TEXTS } from '../../look/texts/tracings.ts';

const T = TRACINGS_TEXTS.readAs;

type Unit = TracingsBackDocument['unit'];

const UNITS = { mm: 1, cm: 10, m: 1000, in: 25.4 } as const;
const AXES = ['+x', '-x', '+y', '-y', '+z', '-z'] as const;

interface UnitQuestionProps {
  readonly document: TracingsBackDocument;
  readonly units: Units;
  readonly isGiven: boolean;
  readonly onUnit: (unit: Unit) => void;
}

/** A table of numbers doesn't say what they are counted in: asked before anything is built from them. */
export function UnitQuestion({ document, units, isGiven, onUnit }: UnitQuestionProps) {
  const width = medianWidth(document);
  return (
    <fieldset className={isGiven ? 'question' : 'question asked'} aria-describedby="csv-unit-says">
      <legend>{T.unit}</legend>
      <p id="csv-unit-says" className="small">
        {width === null ? T.noSection : T.width(Number(width.toPrecision(3)))}
      </p>
      <div className="question-choices">
        {(Object.keys(UNITS) as Unit[]).map((unit) => (
          <button
            key={unit}
            type="button"
            aria-pressed={isGiven && document.unit === unit}
            onClick={() => onUnit(unit)}
          >
            {T.units[unit]}
            {width !== null && T.wide(figureText(lengthFigure(width * UNITS[unit], units, { decimals: 0 })))}
          </button>
        ))}
      </div>
    </fieldset>
  );
}

function medianWidth({ curves, axes }: TracingsBackDocument): number | null {
  const k = 'xyz'.indexOf((axes?.right ?? '+y')[1]!);
  const widths = curves
    .filter(({ kind }) => kind === 'cross')
    .map(({ points }) => {
      const y = points.map((p) => (p.length === 2 ? p[0] : p[k]!));
      return y.reduce((a, b) => Math.max(a, b)) - y.reduce((a, b) => Math.min(a, b));
    })
    .sort((a, b) => a - b);
  return widths[widths.length >> 1] ?? null;
}

/** Which way the file's axes run; only points of three numbers have axes. */
export function AxesChoice({
  axes,
  onAxes,
}: {
  axes: NonNullable<TracingsBackDocument['axes']>;
  onAxes: (axes: NonNullable<TracingsBackDocument['axes']>) => void;
}) {
  return (
    <details>
      <summary>{T.axes(axes.tail, axes.right, axes.up)}</summary>
      <div className="desk-form">
        {(Object.keys(T.ways) as (keyof typeof T.ways)[]).map((way) => (
          <label key={way} className="desk-field">
            {T.axis(T.ways[way])}
            <select
              value={axes[way]}
              onChange={(event) => onAxes({ ...axes, [way]: event.currentTarget.value as (typeof AXES)[number] })}
            >
              {AXES.map((axis) => (
                <option key={axis} value={axis}>
                  {axis}
                </option>
              ))}
            </select>
          </label>
        ))}
      </div>
    </details>
  );
}
