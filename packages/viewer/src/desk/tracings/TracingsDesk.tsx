import { type InputErrorDetails, type TracingsBackDocument, withoutOwner } from '@barwright/geometry';
import { type RefObject, useEffect, useRef, useState } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { fileNameFor, saveJson } from '../../files/save-file.ts';
import { Figure } from '../../look/Figure.tsx';
import { gapFigure, lengthFigure } from '../../look/format.ts';
import { TRACINGS_TEXTS } from '../../look/texts/tracings.ts';
import { openBack, useView } from '../../state/index.ts';
import { closeDesk } from '../desk-store.ts';
import { HistoryButtons } from '../HistoryButtons.tsx';
import { RecordForm } from '../RecordForm.tsx';
import { type RecordDraft, recordFaults } from '../record-draft.ts';
import { useHistory } from '../use-history.ts';
import { CurveTable } from './CurveTable.tsx';
import { DeskEnd } from './DeskEnd.tsx';
import { Lengthwise } from './Lengthwise.tsx';
import { isOffTheMiddle, MiddleQuestion } from './MiddleQuestion.tsx';
import { type Look, Questions } from './Questions.tsx';
import { curvesInQuestion, isAboutSides, withAnswer } from './question-place.ts';
import { AxesChoice, UnitQuestion } from './ReadAs.tsx';
import { Sections } from './Sections.tsx';
import { finishedDocument, type Tracings, type TracingsSource, useReading } from './use-reading.ts';
import { usePreview, useTracingsLayout } from './use-tracings-layout.ts';
import './tracings.css';

const T = TRACINGS_TEXTS.desk;

/** Curves from paper or a table become a back: looked at, questioned, set right, recorded. */
export default function TracingsDesk({ fileName, source }: { fileName: string; source: TracingsSource }) {
  const reading = useReading(fileName, source);
  if (reading.refusal !== null) return <NotReadable fileName={fileName} refusal={reading.refusal} />;
  if (reading.start === null) return <p className="soft desk-wait">{T.reading(fileName)}</p>;
  return <Laid start={reading.start} readWarnings={reading.warnings} />;
}

function NotReadable({ fileName, refusal }: { fileName: string; refusal: InputErrorDetails }) {
  return (
    <div className="desk-wait">
      <p>
        <strong>{fileName}</strong>
        {refusal.field !== undefined && `, ${refusal.field}`}
        {T.nothingTaken}
      </p>
      <Problem problem={refusal} />
    </div>
  );
}

function Laid({ start, readWarnings }: { start: Tracings; readWarnings: readonly string[] }) {
  const units = useView((view) => view.units);
  const history = useHistory(start);
  const { document, record, isUnitGiven } = history.now;
  const uncertaintyMm = Number(record.uncertaintyMm);
  const { layout, outcome, refusal, isStale } = useTracingsLayout(document, uncertaintyMm, isUnitGiven);
  const [looked, setLook] = useState<Look | null>(null);
  const look = currentLook(looked, layout);
  const drawing = useRef<HTMLElement>(null);
  useInSight(drawing, looked?.question.id ?? null);
  const preview = usePreview(document, uncertaintyMm, look);
  const change = (next: Partial<Tracings>, about?: string): void => history.change({ ...history.now, ...next }, about);
  const edit = (next: TracingsBackDocument): void => change({ document: next });
  const asked = look === null ? NOBODY : curvesInQuestion(look.question);
  const faults = recordFaults(record);
  const missing = whatIsMissing(isUnitGiven, layout, refusal, faults, outcome === null);
  const finish = (): TracingsBackDocument => finishedDocument(history.now);
  const hasAxes = document.curves.some(({ points }) => points[0]!.length === 3);
  return (
    <div className="desk-halves tracing-halves">
      <section
        ref={drawing}
        className={isStale ? 'desk-look tracing-look stale' : 'desk-look tracing-look'}
        aria-label={T.drawing}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, and has to by keys too
        tabIndex={0}
      >
        {layout !== null && (
          <>
            <Lengthwise layout={layout} asked={asked} units={units} />
            <Sections
              layout={layout}
              preview={preview}
              asked={asked}
              showsOtherSide={look !== null && isAboutSides(look.question)}
              units={units}
            />
          </>
        )}
      </section>
      <section className="desk-side" aria-label={T.side}>
        <HistoryButtons
          canUndo={history.canUndo}
          canRedo={history.canRedo}
          onUndo={history.undo}
          onRedo={history.redo}
        />
        {refusal !== null && <Problem problem={refusal} />}
        {start.isTable && (
          <UnitQuestion
            document={document}
            units={units}
            isGiven={isUnitGiven}
            onUnit={(unit) => change({ document: { ...withAnswer(document, 'unit', null), unit }, isUnitGiven: true })}
          />
        )}
        {isOffTheMiddle(refusal, document) && <MiddleQuestion document={document} onDocument={edit} />}
        {layout !== null && (
          <Questions
            open={layout.open}
            answered={layout.answered}
            look={look}
            units={units}
            onLook={setLook}
            onAnswer={(id, answer) => {
              setLook(null);
              edit(withAnswer(document, id, answer));
            }}
          />
        )}
        {outcome !== null && (
          <p>
            {T.outcome.usable}
            <Figure of={lengthFigure(outcome.usableMm, units, { decimals: 0 })} />
            {T.outcome.worst}
            <Figure of={gapFigure(outcome.worstMm, units)} />
            {T.outcome.worstOn(outcome.worstCurve)}
          </p>
        )}
        <Warnings said={[...readWarnings, ...(outcome?.warnings ?? layout?.warnings ?? [])]} />
        <CurveTable
          curves={document.curves}
          asked={asked}
          units={units}
          onCurve={(id, changed) =>
            edit({ ...document, curves: document.curves.map((c) => (c.id === id ? { ...c, ...changed } : c)) })
          }
        />
        {hasAxes && (
          <AxesChoice
            axes={document.axes ?? { tail: '+x', right: '+y', up: '+z' }}
            onAxes={(axes) => edit({ ...document, axes })}
          />
        )}
        <RecordForm
          draft={record}
          onChange={(draft) => change({ record: draft }, `record ${changedField(record, draft)}`)}
        />
        <DeskEnd
          missing={missing}
          owner={record.owner}
          onSet={() => {
            const json = finish();
            openBack({ name: json.name, json, mesh: null });
            closeDesk();
          }}
          onSave={(withOwner) => {
            const json = finish();
            saveJson(withOwner ? json : withoutOwner(json), fileNameFor(json.name, 'back'));
          }}
        />
      </section>
    </div>
  );
}

/** Brings what the question is about into sight, within the drawing alone. */
function useInSight(drawing: RefObject<HTMLElement | null>, question: string | null): void {
  useEffect(() => {
    const panel = question === null ? null : drawing.current?.querySelector('.tracing-panel.asked');
    if (!panel || drawing.current === null) return;
    const [of, within] = [panel.getBoundingClientRect(), drawing.current.getBoundingClientRect()];
    if (of.top >= within.top && of.bottom <= within.bottom) return;
    drawing.current.scrollBy({ top: of.top - within.top - 8 });
  }, [drawing, question]);
}

const NOBODY: ReadonlySet<string> = new Set();

/** The question that was looked at, while it still stands; otherwise the first one open. */
function currentLook(looked: Look | null, layout: ReturnType<typeof useTracingsLayout>['layout']): Look | null {
  if (layout === null) return null;
  const standing = [...layout.open, ...layout.answered.map(({ question }) => question)];
  if (looked !== null && standing.some(({ id }) => id === looked.question.id)) return looked;
  const [first] = layout.open;
  return first === undefined ? null : { question: first, choice: null };
}

function whatIsMissing(
  isUnitGiven: boolean,
  layout: ReturnType<typeof useTracingsLayout>['layout'],
  refusal: InputErrorDetails | null,
  faults: ReturnType<typeof recordFaults>,
  isWaiting: boolean,
): string | null {
  if (!isUnitGiven) return T.missing.unit;
  const open = layout?.open.filter(({ blocking }) => blocking).length ?? 0;
  if (open > 0) return open === 1 ? T.missing.question : T.missing.questions(open);
  if (refusal !== null) return T.missing.refused;
  const [fault] = Object.values(faults);
  if (fault !== undefined) return T.missing.record(fault);
  return isWaiting ? T.missing.waiting : null;
}

const changedField = (before: RecordDraft, after: RecordDraft): string =>
  (Object.keys(after) as (keyof RecordDraft)[]).find((key) => before[key] !== after[key]) ?? '';

function Warnings({ said }: { said: readonly string[] }) {
  if (said.length === 0) return null;
  return (
    <ul className="desk-said small">
      {[...new Set(said)].map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
}
