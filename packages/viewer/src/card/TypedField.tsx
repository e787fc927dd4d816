import type { InputErrorDetails } from '@barwright/geometry';
import {
  type KeyboardEvent,
  type PointerEvent,
  type ReactNode,
  useEffect,
  useId,
  useLayoutEffect,
  useRef,
  useState,
} from 'react';
import { foundIn, sentenceIn } from '../look/sentence.ts';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';
import { TEXTS } from '../look/texts.ts';
import { type EditOutcome, useView } from '../state/index.ts';

export interface TypedFieldProps {
  readonly label: string;
  /** In a table the row and column name the field; the label is then for listeners only. */
  readonly isLabelHidden?: boolean;
  /** What stands in the input while nobody types. */
  readonly shown: string;
  /** Exactly what is stored, put in the input when it is entered, so that leaving it unchanged changes nothing. */
  readonly source: string;
  readonly unit: string;
  readonly help?: string;
  /** Place in the range 0..1 and the range in words; absent for values without one. */
  readonly range?: { readonly place: number; readonly text: string };
  /** Stands at the end of the range line. */
  readonly lock?: ReactNode;
  /** Result of an expression, difference to the parent. */
  readonly beside?: ReactNode;
  readonly onCommit: (text: string) => EditOutcome;
  /** Moves by whole steps from where the drag began; absent where a drag would overwrite an expression. */
  readonly onStep?: ((steps: number, from: number) => void) | undefined;
  readonly value: number;
  readonly onDragStart?: (() => void) | undefined;
  readonly onDragEnd?: (() => void) | undefined;
}

const PIXELS_PER_STEP = 4;

/** One value that is typed, stepped with the arrow keys, or dragged along its range. */
export function TypedField(props: TypedFieldProps) {
  const { label, shown, source, unit, help, range, beside, onStep, value } = props;
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const [problem, setProblem] = useState<InputErrorDetails | null>(null);
  const seen = useRef(source);
  const input = useRef<HTMLInputElement>(null);
  const isEntered = useRef(false);
  // The exact text stands in the input from here on: it is selected before any key can reach it.
  useLayoutEffect(() => {
    if (isEntered.current) input.current?.select();
    isEntered.current = false;
  });
  useEffect(() => {
    if (seen.current === source) return;
    seen.current = source;
    setDraft(null);
    setProblem(null);
  }, [source]);

  const commit = (): void => {
    if (draft === null) return;
    if (draft === source || draft.trim() === '') {
      setDraft(null);
      setProblem(null);
      return;
    }
    const outcome = props.onCommit(draft);
    setProblem(outcome.ok ? null : outcome.error);
    if (outcome.ok) setDraft(null);
  };

  const key = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (event.key === 'Enter') commit();
    else if (event.key === 'Escape') {
      setDraft(null);
      setProblem(null);
    } else if (onStep !== undefined && (event.key === 'ArrowUp' || event.key === 'ArrowDown')) {
      event.preventDefault();
      setDraft(null);
      onStep((event.key === 'ArrowUp' ? 1 : -1) * (event.shiftKey ? 10 : 1), value);
    }
  };

  const described = [help === undefined ? '' : `${id}h`, problem === null ? '' : `${id}e`].filter((x) => x !== '');
  return (
    <div className="typed-field">
      <label htmlFor={id} className={props.isLabelHidden ? 'visually-hidden' : 'typed-label'}>
        {label}
      </label>
      <div className="typed-value">
        <span className="typed-box">
          <input
            ref={input}
            id={id}
            type="text"
            autoComplete="off"
            spellCheck={false}
            value={draft ?? shown}
            title={help}
            aria-invalid={problem !== null}
            {...(described.length > 0 ? { 'aria-describedby': described.join(' ') } : {})}
            onFocus={(event) => {
              isEntered.current = draft === null;
              setDraft((now) => now ?? source);
              selectSoon(event.currentTarget, draft ?? source);
            }}
            onChange={(event) => setDraft(event.target.value)}
            onBlur={commit}
            onKeyDown={key}
          />
          {unit !== '' && <span className="typed-unit">{unit}</span>}
        </span>
        {range !== undefined && (
          <span className="range-row">
            <RangeLine {...props} range={range} />
            {props.lock}
          </span>
        )}
        {beside !== undefined && <span className="beside">{beside}</span>}
      </div>
      {help !== undefined && (
        <span id={`${id}h`} className="visually-hidden">
          {help}
        </span>
      )}
      {problem !== null && <Problem id={`${id}e`} problem={problem} />}
    </div>
  );
}

/** A click puts its caret after the focus; what was typed meanwhile, or another field that has the focus, is left alone. */
function selectSoon(input: HTMLInputElement, text: string): void {
  requestAnimationFrame(() => {
    if (document.activeElement === input && input.value === text) input.select();
  });
}

/** Hairline of the range with the value's place on it. Dragging it moves the value by steps from where it is. */
function RangeLine({
  range,
  onStep,
  value,
  onDragStart,
  onDragEnd,
}: TypedFieldProps & { range: { place: number; text: string } }) {
  const drag = useRef<{ x: number; value: number; steps: number } | null>(null);
  const isDraggable = onStep !== undefined;
  const down = (event: PointerEvent<HTMLSpanElement>): void => {
    if (!isDraggable || event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    drag.current = { x: event.clientX, value, steps: 0 };
    onDragStart?.();
  };
  const move = (event: PointerEvent<HTMLSpanElement>): void => {
    const from = drag.current;
    if (from === null) return;
    const steps = Math.round((event.clientX - from.x) / PIXELS_PER_STEP);
    if (steps === from.steps) return;
    from.steps = steps;
    onStep?.(steps, from.value);
  };
  const up = (): void => {
    if (drag.current === null) return;
    drag.current = null;
    onDragEnd?.();
  };
  return (
    <span
      className={isDraggable ? 'range-line draggable' : 'range-line'}
      title={isDraggable ? `${range.text}; ${TEXTS.card.scrub}` : range.text}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
      onLostPointerCapture={up}
    >
      <span className="range-place" style={{ left: `${range.place * 100}%` }} />
    </span>
  );
}

/** What was expected, what was found and what to do, where it happened. */
export function Problem({ id, problem }: { id?: string; problem: InputErrorDetails }) {
  const units = useView((view) => view.units);
  const { expected, got, remedy } = problem;
  return (
    <p {...(id === undefined ? {} : { id })} className="problem small" role="alert">
      {REFUSAL_TEXTS.expected(sentenceIn(expected, units))}
      {got !== undefined && REFUSAL_TEXTS.found(foundIn(got, expected, units))}. {asSentence(remedy)}
    </p>
  );
}

const asSentence = (text: string): string => {
  const start = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.?!]$/.test(start) ? start : `${start}.`;
};
