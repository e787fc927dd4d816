import { CAUTIONS, clearanceColour, type InputErrorDetails, toHex } from '@barwright/geometry';
import { useEffect, useState } from 'react';
import { Problem } from '../card/TypedField.tsx';
import { figureText, gapFigure, massFigure, pressureFigure, shareFigure, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { todayIso } from '../look/today.ts';
import { type OpenedLesson, setView, useDocument, useView } from '../state/index.ts';
import { CaseDrawing } from './CaseDrawing.tsx';
import { commonRange, type HandoutCase, workOutCases } from './handout-cases.ts';
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
  if (lesson === null) return null;
  return (
    <section className="lesson-sheet handout" aria-label={T.title}>
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
  const { cases, done, problem } = useCases(lesson);
  const { document } = lesson;
  return (
    <article className="handout-page">
      <h1>{document.name}</h1>
      <p>{document.sentence}</p>
      {problem !== null && <Problem problem={problem} />}
      {cases === null && problem === null && <p role="status">{T.working(done, document.steps.length)}</p>}
      {cases !== null && <Cases cases={cases} />}
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

function useCases(lesson: OpenedLesson) {
  const [cases, setCases] = useState<readonly HandoutCase[] | null>(null);
  const [done, setDone] = useState(0);
  const [problem, setProblem] = useState<InputErrorDetails | null>(null);
  const { document, patterns, backs } = lesson;
  useEffect(() => {
    let isGone = false;
    setCases(null);
    workOutCases({ document, patterns, backs, step: 0 }, (n) => !isGone && setDone(n)).then(
      (outcome) => {
        if (isGone || outcome === null) return;
        if (outcome.ok) setCases(outcome.value);
        else setProblem(outcome.error);
      },
      // The worker was taken by something else: opening the handout again asks anew.
      () => undefined,
    );
    return () => {
      isGone = true;
    };
  }, [document, patterns, backs]);
  return { cases, done, problem };
}

function Cases({ cases }: { cases: readonly HandoutCase[] }) {
  const scale = useView((view) => view.clearanceScale);
  const units = useView((view) => view.units);
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
            <p>{of.step.sentence}</p>
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
