import { InputError, readQuantity, type TracingsBackDocument } from '@barwright/geometry';
import { TypedField } from '../../card/TypedField.tsx';
import { figureText, lengthFigure, type Units } from '../../look/format.ts';
import type { EditOutcome } from '../../state/index.ts';

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
      <summary>The {curves.length} curves: kind, station and side</summary>
      <div className="tracing-scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">Curve</th>
              <th scope="col">Kind</th>
              <th scope="col">Behind the blade edge</th>
              <th scope="col">Side</th>
            </tr>
          </thead>
          <tbody>
            {curves.map((curve) => (
              <tr key={curve.id} className={asked.has(curve.id) ? 'asked' : undefined}>
                <th scope="row">{curve.id}</th>
                <td>
                  <select
                    aria-label={`Kind of ${curve.id}`}
                    value={curve.kind}
                    onChange={(event) => onCurve(curve.id, { kind: event.currentTarget.value as Curve['kind'] })}
                  >
                    <option value="cross">across</option>
                    <option value="lengthwise">lengthwise</option>
                  </select>
                </td>
                <td>
                  {curve.kind === 'cross' ? <Station curve={curve} units={units} onCurve={onCurve} /> : <>along</>}
                </td>
                <td>
                  {curve.kind === 'cross' && (
                    <select
                      aria-label={`Side of ${curve.id}`}
                      value={curve.side ?? ''}
                      onChange={(event) =>
                        onCurve(curve.id, { side: event.currentTarget.value as NonNullable<Curve['side']> })
                      }
                    >
                      {curve.side === undefined && <option value="">not said</option>}
                      <option value="both">both</option>
                      <option value="left">left</option>
                      <option value="right">right</option>
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
      const mm = readQuantity(text, { field: `Station of ${curve.id}`, unit: units.length });
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
      label={`Station of ${curve.id}`}
      isLabelHidden
      shown={shown.replace('−', '-')}
      source={known === null ? '' : units.length === 'in' ? `${known} mm` : String(known)}
      unit={units.length}
      help={
        known === null ? (curve.points[0]!.length === 3 ? 'as its points lie' : 'not said') : 'behind the blade edge'
      }
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
    expected: `${LEAST_MM} to ${MOST_MM} mm behind the blade edge`,
    remedy: 'Check the number and its unit.',
  });
