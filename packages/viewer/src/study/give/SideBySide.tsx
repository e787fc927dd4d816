import type { GiveFigures, GiveStudy } from '@barwright/geometry';
import { Figure } from '../../look/Figure.tsx';
import { decimalFigure, figureText, forceFigure, gapFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { useView } from '../../state/index.ts';
import { frontTipMm, middleMm, mostStrained } from './give-figures.ts';
import { TableHolder } from './TableHolder.tsx';

const T = TEXTS.give;

/** Where the load enters, rigid against flexible, as bars on one scale; then what the bars do. */
export function SideBySide({ study: { rigid, flexible } }: { study: GiveStudy }) {
  const units = useView((view) => view.units);
  if (rigid === null || flexible === null) return null;
  const most = Math.max(...[rigid, flexible].flatMap(({ zones }) => zones.map(({ loadN }) => loadN)), 1);
  return (
    <section className="give-zones" aria-label={T.zones}>
      <h3>{T.zones}</h3>
      <TableHolder name={T.zones}>
        <table className="study-table">
          <thead>
            <tr>
              <th scope="col">{T.zone}</th>
              <th scope="col">{T.rigid}</th>
              <th scope="col">{T.flexible}</th>
              <th scope="col">{T.change}</th>
            </tr>
          </thead>
          <tbody>
            {rigid.zones.map(({ name, loadN }, i) => (
              <tr key={name}>
                <th scope="row">{T.zoneNames[name]}</th>
                <LoadCell loadN={loadN} most={most} units={units} kind="rigid" />
                <LoadCell loadN={flexible.zones[i]!.loadN} most={most} units={units} kind="flexible" />
                <td>{changeText(flexible.zones[i]!.loadN - loadN, units)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableHolder>
      <Gives figures={flexible} units={units} />
    </section>
  );
}

function LoadCell({ loadN, most, units, kind }: { loadN: number; most: number; units: Units; kind: string }) {
  return (
    <td className="load-cell">
      <span className={`load-bar ${kind}`} style={{ width: `${(55 * loadN) / most}%` }} />
      <Figure of={forceFigure(loadN, units)} />
    </td>
  );
}

function changeText(byN: number, units: Units): string {
  const text = figureText(forceFigure(byN, units));
  return byN > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/** Tip move, root strain beside its cited limit, middle give. */
function Gives({ figures, units }: { figures: GiveFigures; units: Units }) {
  const tip = mostStrained(figures);
  if (tip === null) return null;
  const move = (mm: number | null) => <Figure of={gapFigure(mm, units, { signed: true, decimals: 2 })} />;
  return (
    <p className="small">
      {T.frontTips} {move(frontTipMm(figures))}; {T.middle} {move(middleMm(figures))} ({T.plusAway}). {T.strain}{' '}
      <Figure of={decimalFigure(tip.rootStrainPercent, '%', 2)} />,{' '}
      {tip.strainLimitPercent === null ? T.noLimit : T.besideLimit(tip.strainLimitPercent)} ({tip.strainSource}).{' '}
      {tip.beyondLinear && T.beyondLinear}
    </p>
  );
}
