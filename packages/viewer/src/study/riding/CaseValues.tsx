import { MM_PER_INCH, N_PER_POUND_FORCE, type RidingCase } from '@barwright/geometry';
import { TypedField } from '../../card/TypedField.tsx';
import { TRUE_MINUS, type Units } from '../../look/format.ts';
import { RIDING_TEXTS } from '../../look/texts/riding.ts';
import { type EditOutcome, useView } from '../../state/index.ts';
import { typedMm } from '../shoulder/in-units.ts';
import { editCase, originalOf, putBack, useRiding } from './riding-store.ts';

const T = RIDING_TEXTS.values;

interface ValueField {
  readonly key: keyof typeof T.fields;
  readonly kind: 'plain' | 'length' | 'force';
  readonly unit: string;
  readonly step: number;
}

const FIELDS: readonly ValueField[] = [
  { key: 'factor', kind: 'plain', unit: '×', step: 0.1 },
  { key: 'riseDeg', kind: 'plain', unit: '°', step: 1 },
  { key: 'offsetMm', kind: 'length', unit: '', step: 5 },
  { key: 'girthN', kind: 'force', unit: '', step: 10 },
  { key: 'archMm', kind: 'length', unit: '', step: 2 },
  { key: 'flattenPercent', kind: 'plain', unit: '%', step: 5 },
];

const PLACES = Object.keys(T.places) as RidingCase['weightIn'][];

/** Where the chosen case's figures come from, and its values to change in place. */
export function CaseValues() {
  const at = useRiding((riding) => riding.chosen);
  const riding = useRiding(({ rows, chosen }) => rows[chosen]?.riding);
  const units = useView((view) => view.units);
  if (riding === undefined) return null;
  const isChanged = originalOf(at) !== riding;
  return (
    <section className="case-values" aria-label={T.label}>
      <h3>{riding.name}</h3>
      <p className="small">{T.source(riding.source)}</p>
      <div className="case-fields">
        {FIELDS.map((field) => (
          <CaseField key={`${at} ${field.key}`} at={at} field={field} value={riding[field.key]} units={units} />
        ))}
        <label className="case-place">
          {T.weight}{' '}
          <select
            value={riding.weightIn}
            onChange={(event) => void editCase(at, { weightIn: event.currentTarget.value })}
          >
            {PLACES.map((place) => (
              <option key={place} value={place}>
                {T.places[place]}
              </option>
            ))}
          </select>
        </label>
        <button type="button" disabled={!isChanged} onClick={() => putBack(at)}>
          {T.putBack}
        </button>
      </div>
    </section>
  );
}

interface CaseFieldProps {
  readonly at: number;
  readonly field: ValueField;
  readonly value: number;
  readonly units: Units;
}

function CaseField({ at, field, value, units }: CaseFieldProps) {
  const { key, step } = field;
  const { label, help } = T.fields[key];
  const { unit, to, from } = unitOf(field, units);
  const shown = String(Number(to(value).toPrecision(6)));
  const commit = (text: string): EditOutcome => {
    const typed = from(text);
    const error = editCase(at, { [key]: Number.isNaN(typed) ? text : typed });
    return error === null ? { ok: true } : { ok: false, error };
  };
  return (
    <TypedField
      label={label}
      help={help}
      shown={shown.replace('-', TRUE_MINUS)}
      source={shown}
      unit={unit}
      value={value}
      onCommit={commit}
      onStep={(steps, start) => void editCase(at, { [key]: Number((start + steps * step).toPrecision(8)) })}
    />
  );
}

function unitOf({ kind, unit }: ValueField, units: Units) {
  if (kind === 'length')
    return {
      unit: units.length,
      to: (mm: number) => (units.length === 'in' ? mm / MM_PER_INCH : mm),
      from: (text: string) => typedMm(text, units),
    };
  const per = kind === 'force' && units.mass === 'lb' ? N_PER_POUND_FORCE : 1;
  const typed = (text: string): number => typedMm(text, { ...units, length: 'mm' }) * per;
  return { unit: kind === 'force' ? (per === 1 ? 'N' : 'lbf') : unit, to: (n: number) => n / per, from: typed };
}
