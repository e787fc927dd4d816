import type { GiveFigures } from '@barwright/geometry';
import type { ReactNode } from 'react';
import { Figure } from '../../look/Figure.tsx';
import { TEXTS } from '../../look/texts.ts';
import { useView } from '../../state/index.ts';
import { differenceText, GIVE_COLUMNS } from './figure-columns.ts';
import { TableHolder } from './TableHolder.tsx';

/** One variant in all its figures, each with its difference to another one small beneath it. */
export function VariantRow({
  name,
  figures,
  beside,
}: {
  name: ReactNode;
  figures: GiveFigures;
  beside: GiveFigures | null;
}) {
  const units = useView((view) => view.units);
  return (
    <tr>
      <th scope="row">
        {name}
        {figures.status !== 'settled' && <small className="give-status">{TEXTS.give.notSettled(figures.status)}</small>}
      </th>
      {GIVE_COLUMNS.map((column) => {
        const value = column.of(figures);
        return (
          <td key={column.name}>
            {value === null ? '–' : <Figure of={column.say(value, units)} />}
            {beside !== null && <small className="beside">{differenceText(column, beside, figures, units)}</small>}
          </td>
        );
      })}
    </tr>
  );
}

/** A table of variants under one heading. */
export function VariantTable({ caption, first, children }: { caption: string; first: string; children: ReactNode }) {
  return (
    <TableHolder name={caption}>
      <table className="study-table give-table">
        <caption className="visually-hidden">{caption}</caption>
        <thead>
          <tr>
            <th scope="col">{first}</th>
            {GIVE_COLUMNS.map(({ name }) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>{children}</tbody>
      </table>
    </TableHolder>
  );
}
