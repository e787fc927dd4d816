import { CAUTIONS, clearanceColour, toHex } from '@barwright/geometry';
import { useEffect, useState } from 'react';
import { Problem } from '../card/TypedField.tsx';
import { figureText, gapFigure, massFigure, pressureFigure, shareFigure, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { todayIso } from '../look/today.ts';
import { type OpenedLesson, setView, useDocument, useSentence, useView } from '../state/index.ts';
import { faultDetails } from '../worker/fault.ts';
import { Interrupted } from '../worker/worker-line.ts';
import { CaseDrawing } from './CaseDrawing.tsx';
import { type CasesOutcome, commonRange, type HandoutCase, workOutCases } from './handout-cases.ts';
import { useSheet } from './use-sheet.ts';
import './handout.css';

const T = TEXTS.handout;

/** The open lesson on one page of paper: its cases on one scale, its sentences, and the cautions in full. */
export default function Handout() {
  const lesson = useDocument((documents) => documents.lesson);
  const theme = useView((view) => view.theme);
  useEffect(() => {
    // Paper is light, whatever the page is.
    document.documentElement.dataset.theme = 'light';
    return () => {
      document.documentElement.dataset.theme = theme;
    };
  }, [theme]);
  const sheet = useSheet();
  if (lesson === null) return null;
  return (
    <section className="lesson-sheet handout" aria-label={T.title} {...sheet}>
      <div className="handout-buttons">
        <button type="button" onClick={() => window.print()}>
          {T.print}
        </button>
        <button type="button" onClick={() => setView({ lessonSheet: null })}>
          {TEXTS.lesson.close}
        </button>
      </div>
      <Page lesson={lesson} />
    </section>
  );
}

function Page({ lesson }: { lesson: OpenedLesson }) {
  const { outcome, done, again } = useCases(lesson);
  const { document } = lesson;
  return (
    <article className="handout-page">
      <h1>{document.name}</h1>
      <p>{document.sentence}</p>
      {outcome === 'working' && <p role="status">{T.working(done, document.steps.length)}</p>}
      {outcome === 'interrupted' && (
        <p role="status">
          {T.interrupted}{' '}
          <button type="button" onClick={again}>
            {T.again}
          </button>
        </p>
      )}
      {typeof outcome === 'object' && !outcome.ok && <Problem problem={outcome.error} />}
      {typeof outcome === 'object' && outcome.ok && <Cases cases={outcome.value} />}
      <section className="handout-cautions" aria-label={TEXTS.reading.cautions}>
        <h2>{TEXTS.reading.cautions}</h2>
        <ol>
          {CAUTIONS.map(({ id, full }) => (
            <li key={id}>{full}</li>
          ))}
        </ol>
      </section>
      <p className="small soft">{T.made(todayIso())}</p>
    </article>
  );
}

/** The cases as they are worked out; closing the handout stops that. */
function useCases(lesson: OpenedLesson) {
  const [outcome, setOutcome] = useState<CasesOutcome | 'working' | 'interrupted'>('working');
  const [done, setDone] = useState(0);
  const [attempt, setAttempt] = useState(0);
  const { document, patterns, backs } = lesson;
  // biome-ignore lint/correctness/useExhaustiveDependencies: another attempt works the same lesson out again
  useEffect(() => {
    const stop = new AbortController();
    const { signal } = stop;
    setOutcome('working');
    setDone(0);
    workOutCases({ document, patterns, backs, step: 0 }, (n) => !signal.aborted && setDone(n), signal)
      .catch((reason: unknown) =>
        reason instanceof Interrupted ? null : { ok: false as const, error: faultDetails(reason) },
      )
      .then((value) => !signal.aborted && setOutcome(value ?? 'interrupted'));
    return () => stop.abort();
  }, [document, patterns, backs, attempt]);
  return { outcome, done, again: () => setAttempt((n) => n + 1) };
}

function Cases({ cases }: { cases: readonly HandoutCase[] }) {
  const scale = useView((view) => view.clearanceScale);
  const units = useView((view) => view.units);
  const sentence = useSentence();
  const range = commonRange(cases);
  return (
    <>
      <ol className="handout-cases">
        {cases.map((of, i) => (
          <li key={of.view.id}>
            <h2>
              {i + 1}. {of.step.title}
            </h2>
            {of.step.ask !== undefined && <p className="handout-ask">{of.step.ask.question}</p>}
            <CaseDrawing of={of} range={range} scale={scale} units={units} />
            <p>{sentence(of.step.sentence)}</p>
            <p className="soft">{figuresText(of, units)}</p>
          </li>
        ))}
      </ol>
      <p className="handout-scale">
        {figureText(gapFigure(scale.squeezeMm, units))} {TEXTS.squeeze}
        <span style={{ background: gradient(scale.squeezeMm, scale.clearMm) }} />
        {figureText(gapFigure(scale.clearMm, units))} {TEXTS.clear}. {T.scale(TEXTS.ruler.axis(units.length))}
      </p>
    </>
  );
}

const STOPS = 24;

const gradient = (squeezeMm: number, clearMm: number): string =>
  `linear-gradient(to right, ${Array.from({ length: STOPS + 1 }, (_, i) =>
    toHex(clearanceColour(-squeezeMm + ((squeezeMm + clearMm) * i) / STOPS, { squeezeMm, clearMm })),
  ).join(', ')})`;

/** What it is, and the figures that never stand alone: mismatch, thirds, mean with 95th percentile and peak. */
function figuresText({ view, setup, patternName }: HandoutCase, units: Units): string {
  const { contact, mismatch } = view.result;
  const gap = (mm: number | null): string => figureText(gapFigure(mm, units, { signed: true }));
  return T.figures({
    what: `${patternName} on ${view.back.name}`,
    mismatch: `${gap(mismatch.lengthwiseLeftMm)} / ${gap(mismatch.lengthwiseRightMm)}`,
    rider: figureText(massFigure(setup.load.riderKg, units)),
    thirds: [contact.shareFront, contact.shareMiddle, contact.shareRear]
      .map((s) => figureText(shareFigure(s)))
      .join(' / '),
    pressures: [contact.meanPressureKPa, contact.p95PressureKPa, contact.peakPressureKPa]
      .map((kPa) => figureText(pressureFigure(kPa, units)))
      .join(' / '),
  });
}
