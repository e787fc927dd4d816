import type { InputErrorDetails, TipOption, TipSolution } from '@barwright/geometry';
import { useEffect, useRef, useState } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { Figure } from '../../look/Figure.tsx';
import { areaFigure, figureText, gapFigure, lengthFigure, pressureFigure, type Units } from '../../look/format.ts';
import { beginDrag, documentStore, endDrag, resultStore, setValue, useDocument, useView } from '../../state/index.ts';
import { Interrupted } from '../../worker/worker-line.ts';
import { studyLine } from '../study-line.ts';
import { chartUnits, typedMm } from './in-units.ts';
import { onBench } from './on-bench.ts';
import { useStride } from './stride-store.ts';

/** Wanted clearance that stands in the field first, mm: common practice, no source. */
const USUAL_MM = 5;
const ZONE_STEP_MM = 20;
const LEAST_ZONE_MM = 20;

interface Row {
  readonly zoneMm: number;
  /** null: no lift that a pattern holds reaches it. */
  readonly option: TipOption | null;
}

interface Solving {
  readonly wantedMm: number;
  readonly present: TipOption | null;
  readonly rows: readonly Row[];
  readonly of: number;
  readonly isOver: boolean;
}

/** For each zone length the lift that keeps the tip edge clear over the stride, and its price. */
export function WhatClears() {
  const units = useView((view) => view.units);
  const pattern = useDocument((documents) => documents.pattern);
  const setup = useDocument((documents) => documents.setup);
  const back = useDocument((documents) => documents.back);
  const isBusy = useStride((stride) => stride.running !== null);
  const [wantedMm, setWanted] = useState(USUAL_MM);
  const [typed, setTyped] = useState<{ readonly text: string; readonly in: Units['length'] } | null>(null);
  const [solving, setSolving] = useState<Solving | null>(null);
  const [error, setError] = useState<InputErrorDetails | null>(null);
  const round = useRef(0);

  // A solution of older documents would be taken for theirs.
  // biome-ignore lint/correctness/useExhaustiveDependencies: any of these ends it
  useEffect(() => {
    stop();
    return stop;
  }, [pattern, setup, back]);

  function stop(): void {
    round.current++;
    setSolving((now) => {
      if (now !== null && !now.isOver) studyLine().restart();
      return null;
    });
    setError(null);
  }

  // What was typed stays as typed until the page's unit changes; then the same length is said in the other.
  const ownText = String(
    Number(
      chartUnits(units)
        .gap(wantedMm)
        .toFixed(units.length === 'in' ? 3 : 1),
    ),
  );
  const shownText = typed?.in === units.length ? typed.text : ownText;

  const solve = async (): Promise<void> => {
    const mine = ++round.current;
    const zones = zonesOf();
    setError(null);
    let now: Solving = { wantedMm, present: null, rows: [], of: zones.length, isOver: false };
    setSolving(now);
    try {
      for (const zoneMm of zones) {
        const answer = await studyLine().ask((service) => service.tipThatClears(onBench(), wantedMm, [zoneMm]));
        if (mine !== round.current) return;
        if (!answer.ok) {
          setError(answer.error);
          setSolving(null);
          return;
        }
        now = withAnswer(now, answer.value);
        setSolving(now);
      }
    } catch (fault) {
      if (!(fault instanceof Interrupted)) throw fault;
      if (mine === round.current) setSolving(null);
    }
  };

  return (
    <section className="clears" aria-label="What would clear it">
      <h3>What would clear it</h3>
      <form
        className="clears-ask"
        onSubmit={(event) => {
          event.preventDefault();
          if (Number.isFinite(wantedMm)) void solve();
        }}
      >
        <label>
          Wanted at the tip edge, every phase{' '}
          <input
            type="text"
            inputMode="decimal"
            size={5}
            value={shownText}
            aria-invalid={!Number.isFinite(wantedMm)}
            onChange={(event) => {
              const text = event.currentTarget.value;
              setTyped({ text, in: units.length });
              setWanted(typedMm(text, units));
            }}
          />{' '}
          {units.length}
        </label>
        <button type="submit" disabled={isBusy || !Number.isFinite(wantedMm) || (solving !== null && !solving.isOver)}>
          Solve the lift
        </button>
        {solving !== null && !solving.isOver && (
          <button type="button" onClick={stop}>
            Cancel
          </button>
        )}
      </form>
      <p className="small soft">
        {figureText(gapFigure(USUAL_MM, units))} is common practice, no source. Clearance counts to the top of the pad
        at rest; zone and lift change on both bars.
      </p>
      {solving !== null && !solving.isOver && (
        <p className="small" role="status">
          Solving, zone {Math.min(solving.rows.length + 1, solving.of)} of {solving.of}…
        </p>
      )}
      {error !== null && <Problem problem={error} />}
      {solving?.present != null && (
        <Options solving={solving} present={solving.present} units={units} onRefused={setError} />
      )}
    </section>
  );
}

/** The present zone length and one step either way. */
function zonesOf(): number[] {
  const present = resultStore.getState().pattern?.values.flareZoneFront;
  const zone = typeof present === 'number' ? present : 75;
  return [zone - ZONE_STEP_MM, zone, zone + ZONE_STEP_MM].filter((mm) => mm >= LEAST_ZONE_MM);
}

function withAnswer(now: Solving, { present, options }: TipSolution): Solving {
  const rows = [...now.rows, ...options];
  return { ...now, present, rows, isOver: rows.length === now.of };
}

interface OptionsProps {
  readonly solving: Solving;
  readonly present: TipOption;
  readonly units: Units;
  readonly onRefused: (error: InputErrorDetails) => void;
}

function Options({ solving, present, units, onRefused }: OptionsProps) {
  return (
    <div className="study-table-holder">
      <table className="study-table">
        <thead>
          <tr>
            <th scope="col">Flare zone</th>
            <th scope="col">Lift</th>
            <th scope="col">Least clearance</th>
            <th scope="col">Most under tip</th>
            <th scope="col">Bearing area</th>
            <th scope="col">Contact, standing</th>
            <th scope="col">Mean</th>
            <th scope="col">95th</th>
            <th scope="col">
              <span className="visually-hidden">Take it</span>
            </th>
          </tr>
        </thead>
        <tbody>
          <OptionRow name="now: " option={present} units={units} />
          {solving.rows.map(({ zoneMm, option }) =>
            option === null ? (
              <tr key={zoneMm}>
                <th scope="row">
                  <Figure of={lengthFigure(zoneMm, units, { decimals: 0 })} />
                </th>
                <td colSpan={8} className="soft">
                  no lift that a pattern holds reaches it
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
            Take this<span className="visually-hidden"> tip, zone {Math.round(option.zoneMm)} mm</span>
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
