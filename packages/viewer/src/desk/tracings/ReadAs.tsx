import type { TracingsBackDocument } from '@barwright/geometry';
import { figureText, lengthFigure, type Units } from '../../look/format.ts';

type Unit = TracingsBackDocument['unit'];

const UNITS = { mm: 1, cm: 10, m: 1000, in: 25.4 } as const;
const NAMES = { mm: 'millimetres', cm: 'centimetres', m: 'metres', in: 'inches' } as const;
const AXES = ['+x', '-x', '+y', '-y', '+z', '-z'] as const;
const WAYS = { tail: 'to the tail', right: 'to the horse’s right', up: 'up' } as const;

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
      <legend>In which unit are the numbers of this file?</legend>
      <p id="csv-unit-says" className="small">
        {width === null
          ? 'It holds no section to judge by.'
          : `Its sections are ${Number(width.toPrecision(3))} wide in the file’s own numbers.`}
      </p>
      <div className="question-choices">
        {(Object.keys(UNITS) as Unit[]).map((unit) => (
          <button
            key={unit}
            type="button"
            aria-pressed={isGiven && document.unit === unit}
            onClick={() => onUnit(unit)}
          >
            {NAMES[unit]}
            {width !== null &&
              `: sections ${figureText(lengthFigure(width * UNITS[unit], units, { decimals: 0 }))} wide`}
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
      <summary>
        Axes: {axes.tail} to the tail, {axes.right} to the right, {axes.up} up
      </summary>
      <div className="desk-form">
        {(Object.keys(WAYS) as (keyof typeof WAYS)[]).map((way) => (
          <label key={way} className="desk-field">
            Axis {WAYS[way]}
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
