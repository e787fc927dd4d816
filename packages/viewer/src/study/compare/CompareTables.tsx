import { useMemo, useState } from 'react';
import type { Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { TableHolder } from '../give/TableHolder.tsx';
import type { DrawnResult } from './compare-layout.ts';
import { type CompareRow, isEqual } from './compare-row.ts';
import { inputRows } from './input-rows.ts';
import type { ComparedDocuments } from './kept-store.ts';
import { changeSentences, outputRows } from './output-rows.ts';
import '../shoulder/shoulder.css';

const T = TEXTS.compare;

export interface TablesProps {
  readonly results: readonly DrawnResult[];
  readonly documentsOf: (letter: string) => ComparedDocuments;
  readonly units: Units;
}

export interface TableGroup {
  readonly title: string;
  readonly rows: readonly CompareRow[];
}

/** Every table of the comparison, equal rows included. */
export function tableGroups({ results, documentsOf, units }: TablesProps): TableGroup[] {
  const inputs = inputRows(
    results.map(({ letter, view }) => ({ documents: documentsOf(letter), back: view.back })),
    units,
  );
  return [
    { title: T.groups.pattern, rows: inputs.pattern },
    { title: T.groups.horse, rows: inputs.horse },
    { title: T.groups.setup, rows: inputs.setup },
    {
      title: T.groups.output,
      rows: outputRows(
        results.map(({ view }) => view.result),
        units,
      ),
    },
  ];
}

/** What changes from the first result to each other one. */
export function sentencesOf({ results, units }: Pick<TablesProps, 'results' | 'units'>): string[] {
  const told = results.map(({ letter, view: { result } }) => ({ letter, result }));
  return told.slice(1).flatMap((other) => changeSentences(told[0]!, other, units));
}

/** What differs in what went in and in what came out; what is equal on request. */
export function CompareTables({ results, documentsOf, units }: TablesProps) {
  const [withEqual, setWithEqual] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: documents follow the results
  const groups = useMemo(() => tableGroups({ results, documentsOf, units }), [results, units]);
  const sentences = useMemo(() => sentencesOf({ results, units }), [results, units]);
  if (results.length < 2) return <p className="soft">{T.onlyOne}</p>;
  return (
    <section className="compare-tables" aria-label={T.whatDiffers}>
      <h3>{T.whatDiffers}</h3>
      <p className="small soft">{T.noRank}</p>
      {sentences.length > 0 && (
        <ul className="compare-sentences">
          {sentences.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
      <label className="small">
        <input type="checkbox" checked={withEqual} onChange={(event) => setWithEqual(event.target.checked)} />{' '}
        {T.showEqual}
      </label>
      <div className="compare-groups">
        {groups.map((group) => (
          <Group key={group.title} group={group} results={results} withEqual={withEqual} />
        ))}
      </div>
    </section>
  );
}

function Group({
  group: { title, rows },
  results,
  withEqual,
}: {
  group: TableGroup;
  results: readonly DrawnResult[];
  withEqual: boolean;
}) {
  const shown = withEqual ? rows : rows.filter((row) => !isEqual(row));
  if (shown.length === 0) return <p className="small">{T.allEqual(title)}</p>;
  return (
    <TableHolder name={title}>
      <table className="study-table">
        <thead>
          <tr>
            <th scope="col">{title}</th>
            {results.map(({ letter, name }) => (
              <th key={letter} scope="col" title={name}>
                {letter}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {shown.map((row) => (
            <tr key={row.key} data-row={row.key} className={isEqual(row) ? 'compare-equal' : undefined}>
              <th scope="row">{row.label}</th>
              {row.cells.map((cell, i) => (
                <td key={results[i]!.letter}>{cell}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </TableHolder>
  );
}
