import type { InputErrorDetails, TipOption } from '@barwright/geometry';
import { Figure } from '../../look/Figure.tsx';
import { areaFigure, figureText, gapFigure, lengthFigure, pressureFigure, type Units } from '../../look/format.ts';
import { SHOULDER_TEXTS } from '../../look/texts/shoulder.ts';
import { beginDrag, documentStore, endDrag, setValue } from '../../state/index.ts';

const T = SHOULDER_TEXTS.options;

/** What one zone length needs. */
export interface ClearRow {
  readonly zoneMm: number;
  /** null: no lift that a pattern holds reaches it. */
  readonly option: TipOption | null;
}

/** The lifts found so far, beside the tip as it is. */
export interface Solving {
  readonly wantedMm: number;
  readonly present: TipOption | null;
  readonly rows: readonly ClearRow[];
  readonly of: number;
  readonly isOver: boolean;
}

interface OptionsProps {
  readonly solving: Solving;
  readonly present: TipOption;
  readonly units: Units;
  readonly onRefused: (error: InputErrorDetails) => void;
}

/** The tip as it is and each lift that was found, with its price; one of them may be taken. */
export function ClearOptions({ solving, present, units, onRefused }: OptionsProps) {
  return (
    <div className="study-table-holder">
      <table className="study-table">
        <thead>
          <tr>
            <th scope="col">{T.zone}</th>
            <th scope="col">{T.lift}</th>
            <th scope="col">{T.least}</th>
            <th scope="col">{T.most}</th>
            <th scope="col">{T.bearing}</th>
            <th scope="col">{T.contact}</th>
            <th scope="col">{T.mean}</th>
            <th scope="col">{T.p95}</th>
            <th scope="col">
              <span className="visually-hidden">{T.takeIt}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          <OptionRow name={`${T.now} `} option={present} units={units} />
          {solving.rows.map(({ zoneMm, option }) =>
            option === null ? (
              <tr key={zoneMm}>
                <th scope="row">
                  <Figure of={lengthFigure(zoneMm, units, { decimals: 0 })} />
                </th>
                <td colSpan={8} className="soft">
                  {T.none}
                </td>
              </tr>
            ) : (
              <OptionRow key={zoneMm} option={option} present={present} units={units} onRefused={onRefused} />
            ),
          )}
        </tbody>
      </table>
    </div>
  );
}

interface OptionRowProps {
  readonly name?: string;
  readonly option: TipOption;
  readonly present?: TipOption;
  readonly units: Units;
  readonly onRefused?: (error: InputErrorDetails) => void;
}

function OptionRow({ name = '', option, present, units, onRefused }: OptionRowProps) {
  const change = (now: number, before: number | undefined, of: (value: number) => string) =>
    before === undefined ? null : <small className="beside">{signed(now - before, of)}</small>;
  const area = (cm2: number): string => figureText(areaFigure(cm2, units));
  const pressure = (kPa: number): string => figureText(pressureFigure(kPa, units));
  return (
    <tr>
      <th scope="row">
        {name}
        <Figure of={lengthFigure(option.zoneMm, units, { decimals: 0 })} />
      </th>
      <td>
        <Figure of={gapFigure(option.liftMm, units)} />
      </td>
      <td>
        <Figure of={gapFigure(option.leastGapMm, units)} />
      </td>
      <td>
        {pressure(option.highestPressureKPa)} {change(option.highestPressureKPa, present?.highestPressureKPa, pressure)}
      </td>
      <td>
        {area(option.bearingCm2)} {change(option.bearingCm2, present?.bearingCm2, area)}
      </td>
      <td>
        {area(option.contactCm2)} {change(option.contactCm2, present?.contactCm2, area)}
      </td>
      <td>
        {pressure(option.meanPressureKPa)} {change(option.meanPressureKPa, present?.meanPressureKPa, pressure)}
      </td>
      <td>
        {pressure(option.p95PressureKPa)} {change(option.p95PressureKPa, present?.p95PressureKPa, pressure)}
      </td>
      <td>
        {onRefused !== undefined && (
          <button type="button" onClick={() => take(option, onRefused)}>
            {T.take}
            <span className="visually-hidden"> {T.which(Math.round(option.zoneMm))}</span>
          </button>
        )}
      </td>
    </tr>
  );
}

const signed = (difference: number, of: (value: number) => string): string => {
  const text = of(difference);
  return difference > 0 && !/^0(\.0+)?\D*$/.test(text) ? `+${text}` : text;
};

/** Sets both of the pattern's values as one step of undo; a left bar with values of its own follows the right one again. */
function take({ zoneMm, liftMm }: TipOption, onRefused: (error: InputErrorDetails) => void): void {
  const before = documentStore.getState().pattern;
  const changes: (readonly [string, number | string])[] = [
    ['flareZoneFront', zoneMm],
    // Up to a tenth, so that the clearance asked for is still reached.
    ['flareLiftFront', Math.ceil(liftMm * 10 - 1e-6) / 10],
  ];
  for (const key of ['flareZoneFront', 'flareLiftFront'])
    if (before.leftValues[key] !== undefined) changes.push([`left.${key}`, 'default']);
  beginDrag();
  for (const [key, value] of changes) {
    const outcome = setValue(key, value);
    if (outcome.ok) continue;
    documentStore.setState({ pattern: before });
    onRefused(outcome.error);
    break;
  }
  endDrag();
}
