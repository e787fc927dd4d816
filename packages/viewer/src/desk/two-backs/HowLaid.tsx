import { TWO_BACKS_TEXTS } from '../../look/texts/two-backs.ts';
import type { ComparisonWish, Sixth } from './two-backs-service.ts';

const T = TWO_BACKS_TEXTS.laid;
const ENDS_MM = [5, 10, 20, 40];

/** How the two are laid together, and the fixed ends of the colours. */
export function HowLaid({
  choice,
  onChange,
}: {
  choice: ComparisonWish;
  onChange: (next: Partial<ComparisonWish>) => void;
}) {
  const { align, leaveOut, endsMm } = choice;
  return (
    <fieldset className="two-backs-laid">
      <legend>{T.title}</legend>
      <div className="switch">
        {(['best fit', 'landmarks'] as const).map((way) => (
          <button key={way} type="button" aria-pressed={align === way} onClick={() => onChange({ align: way })}>
            {T.ways[way]}
          </button>
        ))}
      </div>
      <fieldset className="two-backs-sixths">
        <legend className="small">{T.leftOut}</legend>
        {(Object.keys(T.sixths) as Sixth[]).map((sixth) => (
          <label key={sixth}>
            <input
              type="checkbox"
              checked={leaveOut.includes(sixth)}
              onChange={(event) =>
                onChange({
                  leaveOut: event.currentTarget.checked
                    ? [...leaveOut, sixth]
                    : leaveOut.filter((other) => other !== sixth),
                })
              }
            />
            {T.sixths[sixth]}
          </label>
        ))}
      </fieldset>
      <label>
        {T.ends}{' '}
        <select value={endsMm} onChange={(event) => onChange({ endsMm: Number(event.currentTarget.value) })}>
          {ENDS_MM.map((mm) => (
            <option key={mm} value={mm}>
              {T.end(mm)}
            </option>
          ))}
        </select>
      </label>
    </fieldset>
  );
}
