import { type ReactNode, useId } from 'react';
import { DESK_TEXTS } from '../look/texts/desk.ts';
import { type RecordDraft, recordFaults } from './record-draft.ts';

const T = DESK_TEXTS.record;
const HINTS: Readonly<Partial<Record<keyof RecordDraft, string>>> = T.hints;

export interface RecordFormProps {
  readonly draft: RecordDraft;
  readonly onChange: (draft: RecordDraft) => void;
  /** Hides the two uncertainties where the way of measuring fixes them. */
  readonly hasFixedUncertainty?: boolean;
}

/** Whose back, by whom, when, how and how well. */
export function RecordForm({ draft, onChange, hasFixedUncertainty = false }: RecordFormProps) {
  const faults = recordFaults(draft);
  const set = (change: Partial<RecordDraft>): void => onChange({ ...draft, ...change });
  const text = (key: keyof RecordDraft, type = 'text'): ReactNode => (
    <Field label={T.fields[key]} hint={HINTS[key]} fault={faults[key]}>
      {(id, describedBy) => (
        <input
          id={id}
          aria-describedby={describedBy}
          type={type}
          value={draft[key]}
          maxLength={200}
          onChange={(event) => set({ [key]: event.currentTarget.value })}
        />
      )}
    </Field>
  );
  return (
    <fieldset className="desk-form">
      <legend>{T.title}</legend>
      {text('name')}
      {text('by')}
      {text('on', 'date')}
      {!hasFixedUncertainty && text('uncertaintyMm')}
      {!hasFixedUncertainty && text('uncertaintyDeg')}
      <Field label={T.fields.surface}>
        {(id) => (
          <select
            id={id}
            value={draft.surface}
            onChange={(event) => set({ surface: event.currentTarget.value as RecordDraft['surface'] })}
          >
            {(['bare', 'over pad'] as const).map((surface) => (
              <option key={surface} value={surface}>
                {T.surfaces[surface]}
              </option>
            ))}
          </select>
        )}
      </Field>
      {text('how')}
      {text('horse')}
      {text('owner')}
      {text('notes')}
    </fieldset>
  );
}

interface FieldProps {
  readonly label: string;
  readonly hint?: string | undefined;
  readonly fault?: string | undefined;
  readonly children: (id: string, describedBy: string | undefined) => ReactNode;
}

/** A labelled field with what is wrong or worth knowing under it. */
export function Field({ label, hint, fault, children }: FieldProps) {
  const id = useId();
  const says = fault ?? hint;
  return (
    <div className="desk-field">
      <label htmlFor={id}>{label}</label>
      {children(id, says === undefined ? undefined : `${id}-says`)}
      {says !== undefined && (
        <p id={`${id}-says`} className={fault === undefined ? 'small soft' : 'small desk-fault'}>
          {says}
        </p>
      )}
    </div>
  );
}
