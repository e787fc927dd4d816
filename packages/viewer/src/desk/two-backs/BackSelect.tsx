import { TWO_BACKS_TEXTS } from '../../look/texts/two-backs.ts';
import type { ListedBack } from './two-backs-service.ts';
import { ON_BENCH } from './use-shelf.ts';

const T = TWO_BACKS_TEXTS.which;

const dayOf = ({ json }: ListedBack['back']): string =>
  String((json as { measured?: { on?: unknown } }).measured?.on ?? '').slice(0, 10);

/** One of the two, from bench, demo shelf and opened files. */
export function BackSelect({
  label,
  value,
  list,
  onChange,
}: {
  label: string;
  value: string;
  list: readonly ListedBack[];
  onChange: (id: string) => void;
}) {
  return (
    <label className="desk-field">
      {label}
      <select value={value} onChange={(event) => onChange(event.currentTarget.value)}>
        <option value="">{T.choose}</option>
        {list.map(({ id, back }) => (
          <option key={id} value={id}>
            {id === ON_BENCH ? T.onBench : id.startsWith('demo') ? T.demo : ''}
            {T.item(back.name, dayOf(back))}
          </option>
        ))}
      </select>
    </label>
  );
}
