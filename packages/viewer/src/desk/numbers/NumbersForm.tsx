import type { InputErrorDetails } from '@barwright/geometry';
import type { Units } from '../../look/format.ts';
import { NUMBERS_TEXTS } from '../../look/texts/numbers.ts';
import { Field } from '../RecordForm.tsx';
import {
  bareUnit,
  bothReadings,
  hintOf,
  type NumberKey,
  nameOf,
  PLACES,
  type Sheet,
  type SlopeKey,
} from './number-fields.ts';
import type { SheetRead } from './read-sheet.ts';

const T = NUMBERS_TEXTS.form;

interface NumbersFormProps {
  readonly sheet: Sheet;
  readonly read: SheetRead;
  readonly units: Units;
  readonly onText: (key: NumberKey, text: string) => void;
  readonly onSheet: (change: Partial<Sheet>) => void;
  /** The field that is worked on. */
  readonly onFocus: (key: NumberKey | null) => void;
}

/** What can be taken with a flexible ruler and a level, in the order in which it is taken. */
export function NumbersForm(props: NumbersFormProps) {
  const { sheet, onSheet } = props;
  const slopes = PLACES.flatMap((place): SlopeKey[] => (sheet.bySide ? [`${place}.left`, `${place}.right`] : [place]));
  return (
    <>
      <fieldset className="desk-form">
        <legend>{T.along}</legend>
        <fieldset className="switch numbers-line">
          <legend className="small">{T.measuredWas}</legend>
          <button type="button" aria-pressed={sheet.line === 'dip'} onClick={() => onSheet({ line: 'dip' })}>
            {nameOf('dip')}
          </button>
          <button type="button" aria-pressed={sheet.line === 'sag'} onClick={() => onSheet({ line: 'sag' })}>
            {nameOf('sag')}
          </button>
        </fieldset>
        <NumberField {...props} of="usableLength" />
        <NumberField {...props} of={sheet.line} />
      </fieldset>
      <fieldset className="desk-form">
        <legend>{T.across}</legend>
        <NumberField {...props} of="withersWidth" />
        <NumberField {...props} of="withersDepth" />
      </fieldset>
      <fieldset className="desk-form">
        <legend>{T.slopes}</legend>
        {slopes.map((key) => (
          <NumberField key={key} {...props} of={key} />
        ))}
        <label className="numbers-by-side">
          <input
            type="checkbox"
            checked={sheet.bySide}
            onChange={(event) => onSheet({ bySide: event.currentTarget.checked })}
          />
          {T.sidesDiffer}
        </label>
      </fieldset>
      <fieldset className="desk-form">
        <legend>{T.horse}</legend>
        <NumberField {...props} of="withersHeight" />
        <NumberField {...props} of="horseWeight" />
      </fieldset>
    </>
  );
}

function NumberField({ of: key, sheet, read, units, onText, onFocus }: NumbersFormProps & { of: NumberKey }) {
  const text = sheet.texts[key] ?? '';
  const fault = read.faults[key];
  const choices = fault === undefined ? [] : bothReadings(text, fault);
  return (
    <div className="numbers-field">
      <Field
        label={T.label(nameOf(key), bareUnit(key, units))}
        fault={fault === undefined ? undefined : inWords(fault)}
        hint={hintOf(key)}
      >
        {(id, describedBy) => (
          <input
            id={id}
            type="text"
            autoComplete="off"
            spellCheck={false}
            maxLength={60}
            value={text}
            aria-invalid={fault !== undefined}
            {...(describedBy === undefined ? {} : { 'aria-describedby': describedBy })}
            onFocus={() => onFocus(key)}
            onBlur={() => onFocus(null)}
            onChange={(event) => onText(key, event.currentTarget.value)}
          />
        )}
      </Field>
      {choices.length > 0 && (
        <div className="numbers-choices">
          {choices.map((choice) => (
            <button key={choice} type="button" onClick={() => onText(key, choice)}>
              {choice}
            </button>
          ))}
        </div>
      )}
    </div>
  );
}

function inWords({ expected, got, remedy }: InputErrorDetails): string {
  const said = remedy.charAt(0).toUpperCase() + remedy.slice(1);
  return T.fault(expected, got, /[.?!]$/.test(said) ? said : `${said}.`);
}
