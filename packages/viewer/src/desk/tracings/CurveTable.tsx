import { InputError, readQuantity, type TracingsBackDocument } from '@barwright/geometry';
import { TypedField } from '../../card/TypedField.tsx';
import { figureText, lengthFigure, type Units } from '../../look/format.ts';
import { TRACINGS_TEXTS } from '../../look/texts/tracings.ts';
import type { EditOutcome } from '../../state/index.ts';

const T = TRACINGS_TEXTS.table;

type Curve = TracingsBackDocument['curves'][number];

interface CurveTableProps {
  readonly curves: readonly Curve[];
  readonly asked: ReadonlySet<string>;
  readonly units: Units;
  readonly onCurve: (id: string, change: Partial<Curve>) => void;
}

/** What each tracing says of itself, to be set right. */
export function CurveTable({ curves, asked, units, onCurve }: CurveTableProps) {
  return (
    <details className="tracing-table" open={curves.length <= 12}>
      <summary>{T.title(curves.length)}</summary>
      <div className="tracing-scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">{T.curve}</th>
              <th scope="col">{T.kind}</th>
              <th scope="col">{T.station}</th>
              <th scope="col">{T.side}</th>
            </tr>
          </thead>
          <tbody>
            {curves.map((curve) => (
              <tr key={curve.id} className={asked.has(curve.id) ? 'asked' : undefined}>
                <th scope="row">{curve.id}</th>
                <td>
                  <select
                    aria-label={T.kindOf(curve.id)}
                    value={curve.kind}
                    onChange={(event) => onCurve(curve.id, { kind: event.currentTarget.value as Curve['kind'] })}
                  >
                    <option value="cross">{T.kinds.cross}</option>
                    <option value="lengthwise">{T.kinds.lengthwise}</option>
                  </select>
                </td>
                <td>{curve.kind === 'cross' ? <Station curve={curve} units={units} onCurve={onCurve} /> : T.along}</td>
                <td>
                  {curve.kind === 'cross' && (
                    <select
                      aria-label={T.sideOf(curve.id)}
                      value={curve.side ?? ''}
                      onChange={(event) =>
                        onCurve(curve.id, { side: event.currentTarget.value as NonNullable<Curve['side']> })
                      }
                    >
                      {curve.side === undefined && <option value="">{T.notSaid}</option>}
                      <option value="both">{T.sides.both}</option>
                      <option value="left">{T.sides.left}</option>
                      <option value="right">{T.sides.right}</option>
                    </select>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}

const [LEAST_MM, MOST_MM] = [-600, 2000];

function Station({ curve, units, onCurve }: { curve: Curve; units: Units; onCurve: CurveTableProps['onCurve'] }) {
  const { stationMm } = curve;
  const known = typeof stationMm === 'number' ? stationMm : null;
  const commit = (text: string): EditOutcome => {
    try {
      const mm = readQuantity(text, { field: T.stationOf(curve.id), unit: units.length });
      if (!(mm >= LEAST_MM && mm <= MOST_MM)) throw outside(text);
      onCurve(curve.id, { stationMm: mm });
      return { ok: true };
    } catch (error) {
      if (error instanceof InputError) return { ok: false, error: error.details };
      throw error;
    }
  };
  const shown = known === null ? '' : figureText({ ...lengthFigure(known, units, { decimals: 0 }), unit: '' });
  return (
    <TypedField
      label={T.stationOf(curve.id)}
      isLabelHidden
      shown={shown.replace('−', '-')}
      source={known === null ? '' : units.length === 'in' ? `${known} mm` : String(known)}
      unit={units.length}
      help={known === null ? (curve.points[0]!.length === 3 ? T.asPointsLie : T.notSaid) : T.behindEdge}
      value={known ?? Number.NaN}
      onCommit={commit}
    />
  );
}

const outside = (text: string): InputError =>
  new InputError({
    code: 'out-of-range',
    field: 'station',
    got: text.slice(0, 40),
    expected: T.outside.expected(LEAST_MM, MOST_MM),
    remedy: T.outside.remedy,
  });
