import { PHOTO_LINE_TEXTS } from '../../look/texts/photo-line.ts';
import { Field } from '../RecordForm.tsx';
import { faultsOf, lineOptions } from './line-fields.ts';
import { editLine } from './photo-store.ts';
import type { Line, PhotoWork } from './photo-work.ts';

const T = PHOTO_LINE_TEXTS.fields;

export interface LineFieldsProps {
  readonly line: Line;
  readonly work: PhotoWork;
}

/** Where on the horse a line was traced, and which way round. */
export function LineFields({ line, work }: LineFieldsProps) {
  const faults = faultsOf(line, work);
  const set = (change: Partial<Line>, key: string): void =>
    editLine(line.id, (it) => ({ ...it, ...change }), `${key} ${line.id}`);
  const isCross = line.kind === 'cross';
  const wholes = wholesFor(line, work);
  if (line.partOf !== null) {
    return (
      <fieldset className="desk-form">
        <legend>{T.title}</legend>
        <PartOf line={line} wholes={wholes} />
      </fieldset>
    );
  }
  return (
    <fieldset className="desk-form">
      <legend>{T.title}</legend>
      <Field label={T.name} fault={faults.name}>
        {(id, says) => (
          <input
            id={id}
            aria-describedby={says}
            value={line.name}
            maxLength={80}
            onChange={(event) => set({ name: event.currentTarget.value }, 'name')}
          />
        )}
      </Field>
      <Field label={T.runs}>
        {(id) => (
          <select
            id={id}
            value={line.kind}
            onChange={(event) => {
              const kind = event.currentTarget.value as Line['kind'];
              set({ kind, toRight: kind === 'cross' ? 'right' : 'tail' }, 'kind');
            }}
          >
            <option value="cross">{T.kinds.cross}</option>
            <option value="lengthwise">{T.kinds.lengthwise}</option>
          </select>
        )}
      </Field>
      <Field label={T.station[line.kind]} fault={faults.station} hint={T.stationHint(line.unit)}>
        {(id, says) => (
          <input
            id={id}
            aria-describedby={says}
            inputMode="text"
            value={line.station}
            maxLength={40}
            onChange={(event) => set({ station: event.currentTarget.value }, 'station')}
          />
        )}
      </Field>
      {isCross && (
        <Field label={T.side}>
          {(id) => (
            <select
              id={id}
              value={line.side}
              onChange={(event) => set({ side: event.currentTarget.value as Line['side'] }, 'side')}
            >
              <option value="both">{T.sides.both}</option>
              <option value="left">{T.sides.left}</option>
              <option value="right">{T.sides.right}</option>
            </select>
          )}
        </Field>
      )}
      <Field label={T.toRight}>
        {(id) => (
          <select
            id={id}
            value={line.toRight}
            onChange={(event) => set({ toRight: event.currentTarget.value as Line['toRight'] }, 'toRight')}
          >
            {lineOptions(line.kind).map(({ value, says }) => (
              <option key={value} value={value}>
                {says}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label={T.height} fault={faults.height} hint={T.heightHint(line.unit)}>
        {(id, says) => (
          <input
            id={id}
            aria-describedby={says}
            value={line.height}
            maxLength={40}
            onChange={(event) => set({ height: event.currentTarget.value }, 'height')}
          />
        )}
      </Field>
      {wholes.length > 0 && <PartOf line={line} wholes={wholes} />}
    </fieldset>
  );
}

function PartOf({ line, wholes }: { line: Line; wholes: readonly Line[] }) {
  return (
    <Field label={T.stretch} hint={T.stretchHint}>
      {(id, says) => (
        <select
          id={id}
          aria-describedby={says}
          value={line.partOf ?? ''}
          onChange={(event) => {
            const { value } = event.currentTarget;
            editLine(line.id, (it) => ({ ...it, partOf: value === '' ? null : Number(value) }));
          }}
        >
          <option value="">{T.ofItsOwn}</option>
          {wholes.map((whole) => (
            <option key={whole.id} value={whole.id}>
              {T.partOf(whole.name)}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

/** Lines in other photos that this one may be a further stretch of: those that are no part themselves. */
function wholesFor(line: Line, work: PhotoWork): readonly Line[] {
  const all = work.photos.flatMap(({ lines }) => lines);
  if (all.some(({ partOf }) => partOf === line.id)) return [];
  const own = work.photos.find(({ lines }) => lines.includes(line));
  return work.photos
    .filter((photo) => photo !== own)
    .flatMap(({ lines }) => lines)
    .filter(({ partOf, points }) => partOf === null && points.length > 0);
}
