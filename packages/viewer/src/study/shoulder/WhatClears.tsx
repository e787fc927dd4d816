import type { InputErrorDetails, TipSolution } from '@barwright/geometry';
import { useEffect, useRef, useState } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { figureText, gapFigure, type Units } from '../../look/format.ts';
import { SHOULDER_TEXTS } from '../../look/texts/shoulder.ts';
import { resultStore, useDocument, useView } from '../../state/index.ts';
import { Interrupted } from '../../worker/worker-line.ts';
import { studyLine } from '../study-line.ts';
import { ClearOptions, type Solving } from './ClearOptions.tsx';
import { chartUnits, typedMm } from './in-units.ts';
import { onBench } from './on-bench.ts';
import { useStride } from './stride-store.ts';

const T = SHOULDER_TEXTS.clears;

/** Wanted clearance that stands in the field first, mm: common practice, no source. */
const USUAL_MM = 5;
const ZONE_STEP_MM = 20;
const LEAST_ZONE_MM = 20;

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
    <section className="clears" aria-label={T.title}>
      <h3>{T.title}</h3>
      <form
        className="clears-ask"
        onSubmit={(event) => {
          event.preventDefault();
          if (Number.isFinite(wantedMm)) void solve();
        }}
      >
        <label>
          {T.wanted}{' '}
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
          {T.solve}
        </button>
        {solving !== null && !solving.isOver && (
          <button type="button" onClick={stop}>
            {T.cancel}
          </button>
        )}
      </form>
      <p className="small soft">{T.usual(figureText(gapFigure(USUAL_MM, units)))}</p>
      {solving !== null && !solving.isOver && (
        <p className="small" role="status">
          {T.solving(Math.min(solving.rows.length + 1, solving.of), solving.of)}
        </p>
      )}
      {error !== null && <Problem problem={error} />}
      {solving?.present != null && (
        <ClearOptions solving={solving} present={solving.present} units={units} onRefused={setError} />
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
