import type { GiveStudy } from '@barwright/geometry';
import { Figure } from '../../look/Figure.tsx';
import { decimalFigure, gapFigure } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { useView } from '../../state/index.ts';
import { TableHolder } from './TableHolder.tsx';

const T = TEXTS.give;
const NMM_PER_J = 1000;

/** How far the seat gives under a gait's load and how much it stores, at rest under each. */
export function RideGiveTable({ study: { rideGive } }: { study: GiveStudy }) {
  const units = useView((view) => view.units);
  if (rideGive.length === 0) return null;
  const joules = (nmm: number) => <Figure of={decimalFigure(nmm / NMM_PER_J, 'J', 2)} />;
  return (
    <section className="give-ride" aria-label={T.ride}>
      <h3>{T.ride}</h3>
      <p className="small soft">{T.rideNote}</p>
      <TableHolder name={T.ride}>
        <table className="study-table">
          <thead>
            <tr>
              {T.rideColumns.map((word) => (
                <th key={word} scope="col">
                  {word}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rideGive.map(({ factor, seatTravelMm, storedNmm, inBarsNmm, workNmm }) => (
              <tr key={factor}>
                <th scope="row">× {factor}</th>
                <td>
                  <Figure of={gapFigure(seatTravelMm, units, { decimals: 1 })} />
                </td>
                <td>{joules(storedNmm)}</td>
                <td>{joules(inBarsNmm)}</td>
                <td>{joules(workNmm)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableHolder>
    </section>
  );
}
