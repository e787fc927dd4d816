import { InputError, type InputErrorDetails, readShopNumber } from '@barwright/geometry';
import { type FormEvent, useId, useState } from 'react';
import { figureText, lengthFigure, type Units } from '../look/format.ts';
import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';
import { TEXTS } from '../look/texts.ts';

const T = TEXTS.handles;

/** A handle's length that is about to be typed, and where on the drawing. */
export interface TypedAt {
  readonly name: string;
  readonly label: string;
  readonly mm: number;
  readonly xPx: number;
  readonly yPx: number;
}

const WIDTH_PX = 190;

/** A small field beside a handle: what is dragged can be typed, too, as a shop writes it. */
export function TypeHere({
  at,
  units,
  widthPx,
  onSet,
  onLeave,
}: {
  at: TypedAt;
  units: Units;
  widthPx: number;
  onSet: (mm: number) => void;
  onLeave: () => void;
}) {
  const id = useId();
  const [text, setText] = useState(() =>
    figureText({ ...lengthFigure(at.mm, units), unit: '' }).replace('\u2212', '-'),
  );
  const [problem, setProblem] = useState<string | null>(null);
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const read = lengthOf(text, units);
    if (typeof read === 'number') onSet(read);
    else setProblem(read);
  };
  return (
    <form
      className="type-here small"
      style={{ left: Math.max(4, Math.min(widthPx - WIDTH_PX - 4, at.xPx - WIDTH_PX / 2)), top: at.yPx + 14 }}
      onSubmit={submit}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onLeave();
      }}
    >
      <label htmlFor={id}>{T.type(at.label)}</label>
      <span className="type-here-row">
        <input
          id={id}
          // biome-ignore lint/a11y/noAutofocus: it opens because one wants to type
          autoFocus
          autoComplete="off"
          value={text}
          aria-invalid={problem !== null}
          onFocus={(event) => event.currentTarget.select()}
          onChange={(event) => setText(event.currentTarget.value)}
        />
        {units.length}
        <button type="submit">{T.set}</button>
        <button type="button" onClick={onLeave}>
          {T.leave}
        </button>
      </span>
      {problem !== null && <span role="alert">{problem}</span>}
    </form>
  );
}

/** mm, or in words why it is none. */
function lengthOf(text: string, units: Units): number | string {
  const refused = ({ expected, remedy }: Pick<InputErrorDetails, 'expected' | 'remedy'>): string =>
    REFUSAL_TEXTS.expectedDo(expected, remedy);
  try {
    const read = readShopNumber(text.trim(), { defaultUnit: units.length });
    if (read !== null && read.kind === 'length') return read.value;
    return refused(REFUSAL_TEXTS.length);
  } catch (error) {
    if (error instanceof InputError) return refused(error.details);
    throw error;
  }
}
