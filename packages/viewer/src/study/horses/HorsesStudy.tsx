import { FINDING_WORDS, type FitResult } from '@barwright/geometry';
import { useEffect, useMemo, useState } from 'react';
import { useStore } from 'zustand';
import { Problem } from '../../card/TypedField.tsx';
import { Figure } from '../../look/Figure.tsx';
import { areaFigure, gapFigure, pressureFigure, shareFigure, type Units } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { CautionFor } from '../../reading/Cautions.tsx';
import type { OpenedBack } from '../../state/documents.ts';
import { openBack, useDocument, useView } from '../../state/index.ts';
import { TableHolder } from '../give/TableHolder.tsx';
import { backIdOf } from '../shoulder/on-bench.ts';
import { RunLine } from '../sizing/RunLine.tsx';
import { shownOf } from '../sizing/step-run.ts';
import { followHorses, horsesRun } from './horses-run.ts';
import type { HorseRow } from './horses-service.ts';
import { horsesToTry, isSame } from './seen-backs.ts';
import { WORST_BY, type WorstBy, worstFirst } from './worst-first.ts';
import '../shoulder/shoulder.css';
import './horses.css';

const T = TEXTS.horses;

/** The pattern on the bench over several horses, one after the other, worst first by a rule that is stated. */
export default function HorsesStudy() {
  const pattern = useDocument((documents) => documents.pattern);
  const setup = useDocument((documents) => documents.setup);
  const onBench = useDocument((documents) => documents.back);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another back on the bench may be one more horse
  const backs = useMemo(() => horsesToTry(), [onBench]);
  const ids = backs.map(backIdOf).join();
  // biome-ignore lint/correctness/useExhaustiveDependencies: the same horses are the same question
  useEffect(() => followHorses(backs), [pattern, setup, ids]);
  useEffect(() => {
    horsesRun.goOn();
    return () => horsesRun.stop();
  }, []);
  const [by, setBy] = useState<WorstBy>('lengthwise');
  const run = useStore(horsesRun.store);
  const { parts, isOlder } = shownOf(run);
  return (
    <div className="horses">
      <p>
        <strong>{pattern.name}</strong>
        {T.over(backs.length)}
      </p>
      {run.refusal !== null && <Problem problem={run.refusal} />}
      <RunLine run={horsesRun} unit={T.rows} />
      <label className="small">
        {T.order}{' '}
        <select value={by} onChange={({ target: { value } }) => setBy(value as WorstBy)}>
          {WORST_BY.map((one) => (
            <option key={one} value={one}>
              {T.orders[one]}
            </option>
          ))}
        </select>
      </label>
      <p className="small soft">
        {T.rules[by]} {T.noVerdict}
      </p>
      {parts.length > 0 && <Horses rows={worstFirst(parts, by)} {...{ backs, onBench, isOlder, by }} />}
      <CautionFor id="shapes-only" />
    </div>
  );
}

interface HorsesProps {
  readonly rows: readonly HorseRow[];
  readonly backs: readonly OpenedBack[];
  readonly onBench: OpenedBack;
  readonly isOlder: boolean;
  readonly by: WorstBy;
}

function Horses({ rows, backs, onBench, isOlder, by }: HorsesProps) {
  const units = useView((view) => view.units);
  const sorted = (one: WorstBy): 'other' | undefined => (by === one ? 'other' : undefined);
  return (
    <div className={isOlder ? 'stale' : undefined} aria-busy={isOlder}>
      <TableHolder name={T.table}>
        <table className="study-table">
          <thead>
            <tr>
              <th scope="col">{T.horse}</th>
              <th scope="col" aria-sort={sorted('lengthwise')}>
                {T.lengthwise}
              </th>
              <th scope="col">{T.mean}</th>
              <th scope="col">{T.p95}</th>
              <th scope="col" aria-sort={sorted('peak')}>
                {T.peak}
              </th>
              <th scope="col" aria-sort={sorted('area')}>
                {T.area}
              </th>
              <th scope="col">{T.thirds}</th>
              <th scope="col">{T.findings}</th>
              <th scope="col">
                <span className="visually-hidden">{T.open}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => {
              const back = backs.find((one) => backIdOf(one) === row.backId);
              return back === undefined ? null : (
                <HorseLine key={row.backId} {...{ row, back, units }} isOnBench={isSame(back, onBench)} />
              );
            })}
          </tbody>
        </table>
      </TableHolder>
    </div>
  );
}

function HorseLine({
  row: { result, refusal },
  back,
  units,
  isOnBench,
}: {
  row: HorseRow;
  back: OpenedBack;
  units: Units;
  isOnBench: boolean;
}) {
  return (
    <tr data-horse={back.name}>
      <th scope="row">{back.name}</th>
      {result === null ? (
        <td colSpan={7} className="horses-words">
          {T.unread(refusal?.expected ?? '')}
        </td>
      ) : (
        <Figures result={result} units={units} />
      )}
      <td>
        {isOnBench ? (
          <span className="soft">{T.onBench}</span>
        ) : (
          <button type="button" aria-label={`${T.open}: ${back.name}`} onClick={() => openBack(back)}>
            {T.open}
          </button>
        )}
      </td>
    </tr>
  );
}

function Figures({ result, units }: { result: FitResult; units: Units }) {
  const { contact, mismatch, status, findings } = result;
  const names = [...new Set(findings.map(({ code }) => FINDING_WORDS[code]))];
  const said = status === 'settled' ? names : [T.notSettled(status), ...names];
  return (
    <>
      <td>
        <Figure of={gapFigure(mismatch.lengthwiseLeftMm, units, { signed: true })} /> /{' '}
        <Figure of={gapFigure(mismatch.lengthwiseRightMm, units, { signed: true })} />
      </td>
      <td>
        <Figure of={pressureFigure(contact.meanPressureKPa, units)} />
      </td>
      <td>
        <Figure of={pressureFigure(contact.p95PressureKPa, units)} />
      </td>
      <td>
        <Figure of={pressureFigure(contact.peakPressureKPa, units)} />
      </td>
      <td>
        <Figure of={areaFigure(contact.areaCm2, units)} />
      </td>
      <td>
        {[contact.shareFront, contact.shareMiddle, contact.shareRear].map((share, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: front, middle, rear stay in their places
          <span key={i}>
            {i > 0 && ' / '}
            <Figure of={{ ...shareFigure(share), unit: i === 2 ? '%' : '' }} />
          </span>
        ))}
      </td>
      <td className="horses-words">{said.length === 0 ? T.none : said.join(', ')}</td>
    </>
  );
}
