import { type ReactNode, useId } from 'react';
import { type RecordDraft, recordFaults } from './record-draft.ts';

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
  const text = (key: keyof RecordDraft, label: string, more: { type?: string; hint?: string } = {}): ReactNode => (
    <Field label={label} fault={faults[key]} {...(more.hint === undefined ? {} : { hint: more.hint })}>
      {(id, describedBy) => (
        <input
          id={id}
          aria-describedby={describedBy}
          type={more.type ?? 'text'}
          value={draft[key]}
          maxLength={200}
          onChange={(event) => set({ [key]: event.currentTarget.value })}
        />
      )}
    </Field>
  );
  return (
    <fieldset className="desk-form">
      <legend>The record of this back</legend>
      {text('name', 'Name of the back')}
      {text('by', 'Measured by')}
      {text('on', 'Measured on', { type: 'date' })}
      {!hasFixedUncertainty &&
        text('uncertaintyMm', 'Good to, ± mm', { hint: 'common practice, no source; put your own' })}
      {!hasFixedUncertainty && text('uncertaintyDeg', 'Good to, ± degrees')}
      <Field label="Measured over">
        {(id) => (
          <select
            id={id}
            value={draft.surface}
            onChange={(event) => set({ surface: event.currentTarget.value as RecordDraft['surface'] })}
          >
            <option value="bare">the bare back</option>
            <option value="over pad">a pad</option>
          </select>
        )}
      </Field>
      {text('how', 'How it was measured')}
      {text('horse', 'Horse')}
      {text('owner', 'Owner', { hint: 'kept in this browser; left out of what is saved unless you ask' })}
      {text('notes', 'Notes')}
    </fieldset>
  );
}

interface FieldProps {
  readonly label: string;
  readonly hint?: string;
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
