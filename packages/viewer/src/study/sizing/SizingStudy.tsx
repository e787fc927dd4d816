import { NEAR_RATIO } from '@barwright/geometry';
import { useEffect, useMemo, useRef, useState } from 'react';
import { useStore } from 'zustand';
import { Problem } from '../../card/TypedField.tsx';
import type { Units } from '../../look/format.ts';
import { SIZING_TEXTS } from '../../look/texts/sizing.ts';
import { useDocument, useSentence, useView } from '../../state/index.ts';
import { HeldCurve } from './HeldCurve.tsx';
import { RunLine } from './RunLine.tsx';
import { ShelfTable } from './ShelfTable.tsx';
import { SizingForm } from './SizingForm.tsx';
import { useSizingInputs } from './sizing-inputs.ts';
import { followSizing, sizingRun } from './sizing-run.ts';
import { shownOf } from './step-run.ts';
import { TreeDetail } from './TreeDetail.tsx';
import { leastOver, type SizingAnswer, type SizingTable, seatRangeWords, tableOf, worstOf } from './table-of.ts';
import './sizing.css';

const T = SIZING_TEXTS.answer;

/** Which seat, width and tips of a shelf for this rider on this horse: the answer, the table, and the tree touched. */
export default function SizingStudy() {
  const units = useView((view) => view.units);
  const rider = useSizingInputs((inputs) => inputs.rider);
  const shelf = useSizingInputs((inputs) => inputs.shelf);
  const setup = useDocument((documents) => documents.setup);
  const back = useDocument((documents) => documents.back);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another horse is another question
  useEffect(() => followSizing({ rider, shelf }, setup), [rider, shelf, setup, back]);
  useEffect(() => {
    sizingRun.goOn();
    return () => sizingRun.stop();
  }, []);
  const run = useStore(sizingRun.store);
  const { begun, parts, isOlder } = shownOf(run);
  const table = useMemo(() => (begun === null ? null : tableOf(begun, parts)), [begun, parts]);
  return (
    <div className="sizing">
      <SizingForm units={units} />
      {run.refusal !== null && <Problem problem={run.refusal} />}
      <div className={isOlder ? 'sizing-answer stale' : 'sizing-answer'} role="status">
        <Answer answer={table?.answer ?? null} table={table} />
      </div>
      <RunLine run={sizingRun} unit={SIZING_TEXTS.run.unit} note={SIZING_TEXTS.run.note} />
      {table !== null && (
        <div className={isOlder ? 'stale' : undefined} inert={isOlder}>
          <Trees table={table} units={units} />
        </div>
      )}
    </div>
  );
}

function Trees({ table, units }: { table: SizingTable; units: Units }) {
  const [touched, setTouched] = useState<string | null>(null);
  const side = useRef<HTMLDivElement>(null);
  const trees = table.rows.flatMap((row) => row.trees);
  const own = table.answer?.kind === 'closest' ? table.answer.tree : leastOver(trees);
  const shown = trees.find(({ id }) => id === touched) ?? own ?? null;
  const show = (id: string): void => {
    setTouched(id);
    if (side.current !== null && side.current.getBoundingClientRect().top > window.innerHeight - 120)
      side.current.scrollIntoView({ block: 'start' });
  };
  return (
    <div className="sizing-parts">
      <ShelfTable table={table} shown={shown?.id ?? null} units={units} onShow={show} />
      <div ref={side} className="sizing-side">
        {shown !== null && <TreeDetail tree={shown} units={units} />}
        <HeldCurve cell={shown?.cell ?? null} units={units} />
      </div>
    </div>
  );
}

function Answer({ answer, table }: { answer: SizingAnswer | null; table: SizingTable | null }) {
  return (
    <>
      {answer === null && table !== null && <p className="soft">{T.looking(seatRangeWords(table.range))}</p>}
      {answer?.kind === 'closest' && <Closest answer={answer} table={table!} />}
      {answer?.kind === 'none' && <NothingNear answer={answer} table={table!} />}
    </>
  );
}

function Closest({
  answer: { tree, of },
  table,
}: {
  answer: Extract<SizingAnswer, { kind: 'closest' }>;
  table: SizingTable;
}) {
  const { words, ratio, inCase } = worstOf(tree.cell!);
  return (
    <>
      <p>
        {T.closest} <strong className="answer">{tree.id}</strong>
      </p>
      <p className="small">
        {ratio === null ? T.noFinding : T.furthest(words, ratio.toFixed(1), inCase)}{' '}
        {T.leastOf(of, seatRangeWords(table.range))}
      </p>
    </>
  );
}

function NothingNear({
  answer: { needed, hasSeats },
  table,
}: {
  answer: Extract<SizingAnswer, { kind: 'none' }>;
  table: SizingTable;
}) {
  const sentence = useSentence();
  return (
    <>
      <p>
        <strong className="answer">{T.nothingNear}</strong>{' '}
        <span className="small">
          {hasSeats ? T.allFar(seatRangeWords(table.range), NEAR_RATIO) : T.noSeat(seatRangeWords(table.range))}
        </span>
      </p>
      <ul className="needed small">
        {needed.map((said) => (
          <li key={said}>{sentence(said)}</li>
        ))}
      </ul>
    </>
  );
}
