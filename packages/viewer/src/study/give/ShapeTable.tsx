import type { GiveStudy, LoadedShape } from '@barwright/geometry';
import { Figure } from '../../look/Figure.tsx';
import { decimalFigure, type FigureParts, gapFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { useView } from '../../state/index.ts';
import { TableHolder } from './TableHolder.tsx';

const T = TEXTS.give;

interface Row {
  readonly name: string;
  readonly bare: number | null;
  readonly loaded: number | null;
  readonly say: (value: number | null, signed?: boolean) => FigureParts;
}

/** The underside measured as made and as it bears, by the same definitions. */
export function ShapeTable({ study: { loadedShape } }: { study: GiveStudy }) {
  const units = useView((view) => view.units);
  if (loadedShape === null) return null;
  return (
    <section className="give-shape" aria-label={T.shape}>
      <h3>{T.shape}</h3>
      <TableHolder name={T.shape}>
        <table className="study-table">
          <thead>
            <tr>
              {[T.measured, T.bare, T.loaded, T.change].map((word) => (
                <th key={word} scope="col">
                  {word}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rowsOf(loadedShape, units).map(({ name, bare, loaded, say }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>
                  <Figure of={say(bare)} />
                </td>
                <td>
                  <Figure of={say(loaded)} />
                </td>
                <td>
                  <Figure of={say(bare === null || loaded === null ? null : loaded - bare, true)} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableHolder>
    </section>
  );
}

function rowsOf({ stations, twistDeg, twistLoadedDeg, sagMm, sagLoadedMm }: LoadedShape, units: Units): Row[] {
  const degrees: Row['say'] = (value, signed) => decimalFigure(value, '°', 2, signed);
  const length: Row['say'] = (value, signed) => gapFigure(value, units, { decimals: 2, signed: signed === true });
  return [
    ...stations.map((s) => ({
      name: T.angleAt(s.name),
      bare: s.angleDeg,
      loaded: s.angleLoadedDeg,
      say: degrees,
    })),
    ...stations.map((s) => ({ name: T.spreadAt(s.name), bare: s.spreadMm, loaded: s.spreadLoadedMm, say: length })),
    { name: T.twist, bare: twistDeg, loaded: twistLoadedDeg, say: degrees },
    { name: T.rock, bare: sagMm, loaded: sagLoadedMm, say: length },
  ];
}
