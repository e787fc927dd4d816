import type { PatternField } from '@barwright/geometry';
import { Figure } from '../look/Figure.tsx';
import { angleFigure } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { WithWord } from '../words/Word.tsx';
import { type PatternEditing, PatternValue } from './PatternValue.tsx';

const T = TEXTS.card;

/** Front, waist, rear (or whatever stations there are) in columns, the trade's numbers in rows. */
export function StationTable({ editing }: { editing: PatternEditing }) {
  const fields = editing.view.fields.filter((field) => field.station !== undefined);
  const stations = [...new Set(fields.map((field) => field.station!))];
  const quantities = [...new Set(fields.map((field) => field.quantity!))];
  const find = (quantity: string, station: string): PatternField =>
    fields.find((field) => field.quantity === quantity && field.station === station)!;
  return (
    <div className="station-scroll">
      <table className="station-table">
        <thead>
          <tr>
            <th scope="col">
              <span className="visually-hidden">{T.groups.stations}</span>
            </th>
            {stations.map((station) => (
              <th key={station} scope="col">
                {station}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {quantities.map((quantity) => (
            <Row key={quantity} quantity={quantity} stations={stations} find={find} editing={editing} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Row({
  quantity,
  stations,
  find,
  editing,
}: {
  quantity: string;
  stations: readonly string[];
  find: (quantity: string, station: string) => PatternField;
  editing: PatternEditing;
}) {
  const first = find(quantity, stations[0]!);
  return (
    <>
      <tr>
        <th scope="row" title={first.help}>
          <WithWord text={first.label.replace(/, [^,]*$/, '')} />
        </th>
        {stations.map((station) => {
          const field = find(quantity, station);
          return (
            <td key={station}>
              <PatternValue field={field} label={field.label} isLabelHidden editing={editing} />
            </td>
          );
        })}
      </tr>
      {quantity === 'slope' && <IncludedAngles stations={stations} editing={editing} />}
    </>
  );
}

/** 180 less both slopes, always beside the slopes themselves. */
function IncludedAngles({ stations, editing }: { stations: readonly string[]; editing: PatternEditing }) {
  const { values, leftValues } = editing.view;
  return (
    <tr className="computed">
      <th scope="row" title={T.includedHelp}>
        <WithWord text={T.included} />
      </th>
      {stations.map((station) => {
        const key = `slope${station.charAt(0).toUpperCase()}${station.slice(1)}`;
        return (
          <td key={station}>
            <Figure of={angleFigure(180 - Number(values[key]) - Number(leftValues[key]))} />
          </td>
        );
      })}
    </tr>
  );
}
