import type { LessonStep } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';
import { useResult } from '../state/index.ts';
import { changeStep, type Draft, moveStep, removeStep, unchangedKeys } from './draft.ts';
import { heldNames } from './held-names.ts';
import { editDraft } from './writer-store.ts';

const T = TEXTS.lessonWriter;
const PLACES = Object.keys(T.places) as LessonStep['lookAt'][];
const SETUP_PARTS = ['setup.setPositionMm', 'setup.load', 'setup.layers', 'setup.legForward', 'setup.flex'];

interface StepProps {
  readonly at: number;
  readonly step: LessonStep;
  readonly draft: Draft;
}

/** One step of the lesson: what stands, what is asked, what is said, where to look and what is held. */
export function StepForm({ at, step, draft }: StepProps) {
  const change = (changed: Partial<LessonStep>): void =>
    editDraft(changeStep(draft, at, changed), `${at} ${Object.keys(changed).join()}`);
  return (
    <li className="lesson-step">
      <fieldset className="lesson-fields">
        <legend>{T.step(at + 1)}</legend>
        <label>
          {T.stepTitle}
          <input value={step.title} maxLength={120} onChange={(e) => change({ title: e.target.value })} />
        </label>
        <label>
          {T.sentence}
          <textarea
            rows={2}
            value={step.sentence}
            maxLength={600}
            onChange={(e) => change({ sentence: e.target.value })}
          />
        </label>
        <Asking step={step} change={change} />
        <label>
          {T.look}
          <select value={step.lookAt} onChange={(e) => change({ lookAt: e.target.value as LessonStep['lookAt'] })}>
            {PLACES.map((place) => (
              <option key={place} value={place}>
                {T.places[place]}
              </option>
            ))}
          </select>
        </label>
        <p className="small soft lesson-stands">{standsText(step)}</p>
        <Holding at={at} step={step} draft={draft} />
      </fieldset>
      <div className="head-group">
        <button type="button" disabled={at === 0} onClick={() => editDraft(moveStep(draft, at, -1))}>
          {T.earlier}
        </button>
        <button
          type="button"
          disabled={at === draft.steps.length - 1}
          onClick={() => editDraft(moveStep(draft, at, 1))}
        >
          {T.later}
        </button>
        <button type="button" onClick={() => editDraft(removeStep(draft, at))}>
          {T.remove}
        </button>
      </div>
    </li>
  );
}

function Asking({ step, change }: { step: LessonStep; change: (changed: Partial<LessonStep>) => void }) {
  const ask = step.ask ?? { question: '', choices: [] };
  return (
    <>
      <label>
        {T.question}
        <input
          value={ask.question}
          maxLength={300}
          onChange={(e) => change({ ask: { ...ask, question: e.target.value } })}
        />
      </label>
      <label>
        {T.choices}
        <textarea
          rows={3}
          value={ask.choices.join('\n')}
          disabled={ask.question.trim() === ''}
          onChange={(e) => change({ ask: { ...ask, choices: e.target.value.split('\n').slice(0, 6) } })}
        />
      </label>
    </>
  );
}

/** What the step sets, in the words of its document. */
function standsText({ pattern, back, setup }: LessonStep): string {
  const base = typeof pattern === 'string' ? pattern : pattern.base;
  const set = { ...(typeof pattern === 'string' ? {} : pattern.set), ...setup };
  const changes = Object.entries(set).map(([key, value]) => `${key} ${value}`);
  return T.stands(base, back, changes.join(', '));
}

/** Held values, a box each; what the step changes can't be held. */
function Holding({ at, step, draft }: StepProps) {
  const fields = useResult((result) => result.pattern?.fields) ?? [];
  const keys = [...fields.map(({ key }) => key), ...SETUP_PARTS];
  const free = unchangedKeys(draft, at, keys);
  const hold = (locked: string[]): void => editDraft(changeStep(draft, at, { locked }));
  return (
    <details className="small">
      <summary>{T.holds(step.locked.length)}</summary>
      <div className="head-group">
        <button type="button" onClick={() => hold(free)}>
          {T.holdAll}
        </button>
        <button type="button" onClick={() => hold([])}>
          {T.holdNone}
        </button>
      </div>
      <div className="lesson-holds">
        {[...new Set([...free, ...step.locked])].map((key) => (
          <label key={key}>
            <input
              type="checkbox"
              checked={step.locked.includes(key)}
              onChange={(e) =>
                hold(e.target.checked ? [...step.locked, key] : step.locked.filter((other) => other !== key))
              }
            />
            {heldNames([key], fields)[0]}
          </label>
        ))}
      </div>
    </details>
  );
}
