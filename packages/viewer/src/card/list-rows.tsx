import type { ReactNode } from 'react';
import { TEXTS } from '../look/texts.ts';
import { type SetupPane, valueAt } from './setup-rows.tsx';
import { TypedField } from './TypedField.tsx';

const T = TEXTS.setupLists;

/** Words of the setup: names, who set the rules. `none` stands there, and may be typed, where there are no words. */
export function TextRow({
  setup,
  onSetup,
  path,
  label,
  none,
  empty = '',
  help,
}: Pick<SetupPane, 'setup' | 'onSetup'> & {
  path: string;
  label: string;
  none?: string;
  empty?: string;
  help?: string;
}) {
  const held = valueAt(setup, path);
  const text = typeof held === 'string' ? held : '';
  const isNone = (typed: string): boolean => none !== undefined && ['none', none].includes(typed.toLowerCase());
  return (
    <TypedField
      label={label}
      shown={text === '' ? (none ?? empty) : text}
      source={text}
      unit=""
      value={Number.NaN}
      {...(help === undefined ? {} : { help })}
      onCommit={(typed) => onSetup(path, isNone(typed.trim()) ? null : typed.trim())}
    />
  );
}

/** One of two or three words, as buttons side by side. */
export function SwitchRow<K extends string>({
  label,
  value,
  options,
  onChoose,
  children,
}: {
  label: string;
  value: K;
  options: Readonly<Record<K, string>>;
  onChoose: (value: K) => void;
  children?: ReactNode;
}) {
  return (
    <div className="typed-field">
      <span className="typed-label">{label}</span>
      <fieldset className="switch" aria-label={label}>
        {(Object.keys(options) as K[]).map((key) => (
          <button key={key} type="button" aria-pressed={value === key} onClick={() => onChoose(key)}>
            {options[key]}
          </button>
        ))}
      </fieldset>
      {children !== undefined && <p className="small soft wide">{children}</p>}
    </div>
  );
}

/** Things of one list of the setup, each with a way to take it out, and a way to put one more in. */
export function ListOf<T extends { readonly name: string }>({
  items,
  path,
  what,
  most,
  least = 0,
  make,
  onSetup,
  children,
}: Pick<SetupPane, 'onSetup'> & {
  items: readonly T[];
  /** Of the list in the setup. */
  path: string;
  /** One of them, in a word. */
  what: string;
  most: number;
  least?: number;
  make: () => T;
  children: (item: T, place: number) => ReactNode;
}) {
  return (
    <div className="list-of">
      {items.map((item, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a thing is its place in the list
        <section key={i} className="list-item field-list" aria-label={`${what} ${i + 1}: ${item.name}`}>
          <div className="list-head">
            <h3>
              {i + 1}. {item.name}
            </h3>
            <button
              type="button"
              disabled={items.length <= least}
              aria-label={T.removeNamed(what, item.name)}
              onClick={() => onSetup(path, [...items.slice(0, i), ...items.slice(i + 1)])}
            >
              {T.remove}
            </button>
          </div>
          {children(item, i)}
        </section>
      ))}
      <button type="button" disabled={items.length >= most} onClick={() => onSetup(path, [...items, make()])}>
        {T.add(what)}
      </button>
    </div>
  );
}
