import { Figure } from '../../look/Figure.tsx';
import { lengthFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import type { StationDepths } from './takeoff-service.ts';

const T = TEXTS.takeOff;
export const PLACES = ['inner', 'middle', 'outer'] as const;

/** Depth of the take-off at every station: inner edge, middle and outer edge of both bars. */
export function DepthTable({ rows, units }: { rows: readonly StationDepths[]; units: Units }) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a section here would be one more heading's place in the outline
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable with the keyboard
    <div className="takeoff-table" role="group" aria-label={T.table} tabIndex={0}>
      <table>
        <caption>{T.table}</caption>
        <thead>
          <tr>
            <th scope="col">{T.station}</th>
            {(['left', 'right'] as const).flatMap((side) =>
              PLACES.map((place) => (
                <th key={side + place} scope="col">
                  {TEXTS[side]}, {T.places[place]}
                </th>
              )),
            )}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ name, left, right }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {[...left, ...right].map((mm, i) => (
                <td key={`${i < 3 ? 'left' : 'right'}${PLACES[i % 3]}`}>
                  <Depth mm={mm} units={units} />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** In sixteenths on an inch page: that is how a rasp is told. */
export function Depth({ mm, units }: { mm: number; units: Units }) {
  if (Number.isNaN(mm)) return <span className="soft">{T.beyond}</span>;
  return <Figure of={lengthFigure(mm, units, { signed: true })} />;
}
