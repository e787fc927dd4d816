import { InputError, KG_PER_POUND, readQuantity, type Setup, type UnitName } from '@barwright/geometry';
import { type ReactNode, useId } from 'react';
import { figureText, massFigure, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import type { EditOutcome } from '../state/index.ts';
import { TypedField } from './TypedField.tsx';
import { defaultUnit, inputText, placeInRange, stepped, unitText, type ValueKind, valueFigure } from './value-text.ts';

/** What every row of the setup card is given. */
export interface SetupPane {
  readonly setup: Setup;
  readonly units: Units;
  readonly onSetup: (path: string, value: unknown) => EditOutcome;
  readonly onDragStart: () => void;
  readonly onDragEnd: () => void;
}

/** One number of the setup: where it stands, its name, and the range that the row shows. */
export interface NumberRow {
  /** Dotted, as `setSetup` takes it. */
  readonly path: string;
  readonly label: string;
  readonly kind: ValueKind;
  readonly min: number;
  readonly max: number;
  readonly help?: string;
  /** Shown behind the figure where the kind has no unit of its own. */
  readonly unit?: string;
  /** Unit of a bare number, and of others that may be typed, where the kind has none. */
  readonly typedIn?: UnitName;
  /** One press of an arrow key where a whole number is too coarse; the figure is then shown as it is stored. */
  readonly step?: number;
  /** What stands there while the setup holds no number of its own. */
  readonly instead?: number;
}

/** A typed, stepped or dragged number of the setup. */
export function ValueRow({ row, ...pane }: SetupPane & { row: NumberRow }) {
  const { path, label, kind, min, max, help, unit } = row;
  const { units, onSetup } = pane;
  const value = numberAt(pane.setup, row);
  const ends = [min, max].map((end) =>
    figureText(kind === 'mass' ? massFigure(end, units) : valueFigure(end, kind, units)),
  );
  return (
    <TypedField
      label={label}
      shown={shownText(row, value, units)}
      source={sourceText(kind, value, units)}
      unit={unit ?? unitText(kind, units)}
      {...(help === undefined ? {} : { help })}
      range={{ place: placeInRange(value, kind, min, max), text: TEXTS.card.range(ends[0]!, ends[1]!) }}
      value={value}
      onCommit={(text) => setTyped(onSetup, path, text, label, row.typedIn ?? defaultUnit(kind, units))}
      onStep={(steps, from) => void onSetup(path, steppedRow(row, steps, from, units))}
      onDragStart={pane.onDragStart}
      onDragEnd={pane.onDragEnd}
    />
  );
}

function numberAt(setup: Setup, { path, instead }: NumberRow): number {
  const found = valueAt(setup, path);
  return typeof found === 'number' ? found : (instead ?? Number.NaN);
}

/** What stands at a dotted path of the setup; undefined where nothing does. */
export const valueAt = (setup: Setup, path: string): unknown =>
  path.split('.').reduce<unknown>((from, key) => (from as Record<string, unknown> | undefined)?.[key], setup);

function shownText({ kind, step }: NumberRow, value: number, units: Units): string {
  if (kind === 'mass') return massFigure(value, units).number;
  return step === undefined ? inputText(value, kind, units) : String(Number(value.toPrecision(6)));
}

function sourceText(kind: ValueKind, value: number, units: Units): string {
  const isForeign = (kind === 'mass' && units.mass === 'lb') || (kind === 'length' && units.length === 'in');
  return isForeign ? `${value} ${kind === 'mass' ? 'kg' : 'mm'}` : String(value);
}

function steppedRow({ kind, min, max, step }: NumberRow, steps: number, from: number, units: Units): number {
  const inPounds = kind === 'mass' && units.mass === 'lb';
  const own = inPounds ? KG_PER_POUND : step;
  if (own === undefined) return stepped(from, steps, kind, units, min, max);
  const next = Math.round(from / own + steps) * own;
  return Math.min(max, Math.max(min, inPounds ? next : Number(next.toPrecision(8))));
}

function setTyped(
  onSetup: SetupPane['onSetup'],
  path: string,
  text: string,
  field: string,
  unit: UnitName,
): EditOutcome {
  try {
    return onSetup(path, readQuantity(text, { field, unit }));
  } catch (error) {
    if (error instanceof InputError) return { ok: false, error: error.details };
    throw error;
  }
}

/** A number that may be left to something else, as the word for it says. */
export function OptionalRow({
  path,
  label,
  value,
  none,
  unit,
  typedIn,
  onSetup,
}: Pick<SetupPane, 'onSetup'> & {
  path: string;
  label: string;
  value: number | null;
  /** Stands there, and may be typed, for no number. */
  none: string;
  unit: string;
  /** Unit of a bare number where the reader of quantities knows it. */
  typedIn: UnitName;
}) {
  return (
    <TypedField
      label={label}
      shown={value === null ? none : String(value)}
      source={value === null ? '' : String(value)}
      unit={value === null ? '' : unit}
      value={value ?? Number.NaN}
      help={TEXTS.setup.noneHelp}
      onCommit={(text) =>
        ['none', none].includes(text.trim().toLowerCase())
          ? onSetup(path, null)
          : setTyped(onSetup, path, text, label, typedIn)
      }
    />
  );
}

/** One of a few words. */
export function ChoiceRow({
  label,
  value,
  options,
  onChoose,
  children,
}: {
  label: string;
  value: string;
  options: readonly (readonly [value: string, word: string])[];
  onChoose: (value: string) => void;
  /** Small, under the row. */
  children?: ReactNode;
}) {
  const id = useId();
  return (
    <div className="typed-field">
      <label className="typed-label" htmlFor={id}>
        {label}
      </label>
      <select id={id} value={value} onChange={(event) => onChoose(event.target.value)}>
        {options.map(([option, word]) => (
          <option key={option} value={option}>
            {word}
          </option>
        ))}
      </select>
      {children !== undefined && <p className="small soft wide">{children}</p>}
    </div>
  );
}
