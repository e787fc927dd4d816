import {
  InputError,
  type InputErrorDetails,
  KG_PER_POUND,
  RIDING_SETS,
  readQuantity,
  riderSchema,
} from '@barwright/geometry';
import { useEffect, useRef, useState } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { openFiles } from '../../files/open-files.ts';
import type { Units } from '../../look/format.ts';
import { SIZING_TEXTS } from '../../look/texts/sizing.ts';
import { useDocument } from '../../state/index.ts';
import { type ShelfJson, ShelfWords } from './ShelfWords.tsx';
import { changeRider, chooseRider, chooseShelf, type RiderJson, useSizingInputs } from './sizing-inputs.ts';

const T = SIZING_TEXTS.form;

/** What a rider's document means where it says nothing. */
const DEFAULT_RIDING = riderSchema.shape.riding.parse(undefined);

/** Who rides, how, what the shop makes, and which horse. */
export function SizingForm({ units }: { units: Units }) {
  const rider = useSizingInputs((inputs) => inputs.rider);
  const riders = useSizingInputs((inputs) => inputs.riders);
  const shelf = useSizingInputs((inputs) => inputs.shelf);
  const shelves = useSizingInputs((inputs) => inputs.shelves);
  const horse = useDocument((documents) => documents.back.name);
  const riderAt = riders.findIndex(({ name }) => name === rider.name);
  return (
    <div className="sizing-form">
      <label>
        {T.rider}
        <select value={riderAt} onChange={(event) => chooseRider(riders[Number(event.currentTarget.value)]!)}>
          {riders.map((one, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: riders are only ever added
            <option key={i} value={i}>
              {String(one.name)}
            </option>
          ))}
        </select>
      </label>
      <MassField label={T.mass} value={rider.mass} units={units} onChange={(mass) => changeRider({ mass })} />
      <MassField label={T.gear} value={rider.gear ?? 0} units={units} onChange={(gear) => changeRider({ gear })} />
      <label>
        {T.thigh}
        <select
          value={String(rider.thigh ?? 'average')}
          onChange={(event) => changeRider({ thigh: event.currentTarget.value })}
        >
          {['short', 'average', 'long'].map((thigh) => (
            <option key={thigh}>{thigh}</option>
          ))}
        </select>
      </label>
      <RidingSelect rider={rider} opened={riders[riderAt]} />
      <label>
        {T.shelf}
        <select
          value={shelves.indexOf(shelf)}
          onChange={(event) => chooseShelf(shelves[Number(event.currentTarget.value)]!)}
        >
          {shelves.map((one, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: shelves are only ever added
            <option key={i} value={i}>
              {nameOf(one.json)}
            </option>
          ))}
        </select>
      </label>
      <OpenButton />
      <p className="sizing-horse">
        {T.on} <strong>{horse}</strong>
      </p>
      <ShelfWords json={shelf.json as ShelfJson} />
    </div>
  );
}

const nameOf = (json: unknown): string => String((json as { name?: unknown }).name ?? '');

/** The sets, and the rider's own riding where the opened document has one. */
function RidingSelect({ rider, opened }: { rider: RiderJson; opened: RiderJson | undefined }) {
  const own = [rider.riding, opened?.riding].find((riding) => typeof riding === 'object' && riding !== null);
  const value = typeof rider.riding === 'object' ? nameOf(rider.riding) : String(rider.riding ?? DEFAULT_RIDING);
  const pick = (name: string): void => changeRider({ riding: own !== undefined && name === nameOf(own) ? own : name });
  return (
    <label>
      {T.riding}
      <select value={value} onChange={(event) => pick(event.currentTarget.value)}>
        {own !== undefined && <option>{nameOf(own)}</option>}
        {RIDING_SETS.map(({ name }) => (
          <option key={name}>{name}</option>
        ))}
      </select>
    </label>
  );
}

interface MassFieldProps {
  readonly label: string;
  /** As a rider's document has it: kg, or text with its unit. */
  readonly value: unknown;
  readonly units: Units;
  /** kg. */
  readonly onChange: (kg: number) => void;
}

/** A mass in the page's unit; another unit may be written. */
function MassField({ label, value, units: { mass: unit }, onChange }: MassFieldProps) {
  const shown = massText(value, unit);
  const [text, setText] = useState(shown);
  const [problem, setProblem] = useState<InputErrorDetails | null>(null);
  useEffect(() => {
    setText(shown);
    setProblem(null);
  }, [shown]);
  const commit = (): void => {
    if (text === shown) return;
    try {
      onChange(readQuantity(text.trim(), { field: label.toLowerCase(), unit }));
      setProblem(null);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      setProblem(error.details);
    }
  };
  return (
    <label className="mass-field">
      {label}, {unit}
      <input
        value={text}
        inputMode="decimal"
        aria-invalid={problem !== null}
        onChange={(event) => setText(event.currentTarget.value)}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit();
        }}
      />
      {problem !== null && <Problem problem={problem} />}
    </label>
  );
}

function massText(value: unknown, unit: 'kg' | 'lb'): string {
  try {
    const kg = readQuantity(value, { field: 'mass', unit: 'kg' });
    return String(Number((unit === 'kg' ? kg : kg / KG_PER_POUND).toFixed(1)));
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return String(value);
  }
}

function OpenButton() {
  const picker = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" onClick={() => picker.current?.click()}>
        {T.open}
      </button>
      <input
        ref={picker}
        type="file"
        multiple
        hidden
        accept=".json"
        aria-label={T.files}
        onChange={(event) => {
          const files = [...(event.currentTarget.files ?? [])];
          event.currentTarget.value = '';
          void openFiles(files);
        }}
      />
    </>
  );
}
