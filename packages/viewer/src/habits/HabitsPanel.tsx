import { useEffect, useRef } from 'react';
import { TEXTS } from '../look/texts.ts';
import { goBackTo, openCopyOf } from './go-back.ts';
import { clock, showPanel, useHabits } from './habits-store.ts';
import { KEYS_OF_PARTS, SHORTCUTS } from './keys.ts';
import { RecentList } from './RecentList.tsx';
import { SavePanel } from './SavePanel.tsx';
import './habits.css';

const T = TEXTS.habits;

/** What lies over the bench when asked for: earlier states and other work, or the list of keys. */
export function HabitsPanel() {
  const panel = useHabits((habits) => habits.panel);
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    if (panel !== null && dialog.current?.open === false) dialog.current.showModal();
  }, [panel]);
  if (panel === null) return null;
  return (
    <dialog ref={dialog} className="habits" aria-label={T.titles[panel]} onClose={() => showPanel(null)}>
      <div className="habits-head">
        <h2>{T.titles[panel]}</h2>
        <button type="button" onClick={() => showPanel(null)}>
          {TEXTS.page.close}
        </button>
      </div>
      {panel === 'keys' && <Keys />}
      {panel === 'kept' && <Kept />}
      {panel === 'save' && <SavePanel />}
    </dialog>
  );
}

const asWritten = (keys: string): string =>
  keys
    .split('+')
    .map((key) => key.charAt(0).toUpperCase() + key.slice(1))
    .join('+');

function Keys() {
  const rows = [
    ...SHORTCUTS.map(({ keys, says }) => ({ keys: keys.map(asWritten).join(' or '), says })),
    ...KEYS_OF_PARTS,
  ];
  return (
    <>
      <p className="soft">{T.keysNote}</p>
      <table>
        <tbody>
          {rows.map(({ keys, says }) => (
            <tr key={says}>
              <th scope="row">
                <kbd>{keys}</kbd>
              </th>
              <td>{says}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function Kept() {
  const history = useHabits((habits) => habits.history);
  const others = useHabits((habits) => habits.others);
  return (
    <>
      <h3>{T.earlier}</h3>
      <p className="soft">{T.earlierNote}</p>
      <ol className="habits-list">
        {[...history].reverse().map((state, index) => (
          <li key={state.key}>
            <span>
              {clock(state.at)} {state.says}
            </span>
            {index === 0 ? (
              <span className="soft">{T.onBenchNow}</span>
            ) : (
              <button type="button" onClick={() => void goBackTo(state).then(() => showPanel(null))}>
                {T.goBack}
              </button>
            )}
          </li>
        ))}
      </ol>
      <RecentList />
      <h3>{T.others}</h3>
      {others.length === 0 && <p className="soft">{T.noOthers}</p>}
      <ul className="habits-list">
        {others.map((other) => (
          <li key={other.id}>
            <span>
              {clock(other.at)} {other.name}
            </span>
            <button type="button" onClick={() => void openCopyOf(other).then(() => showPanel(null))}>
              {TEXTS.page.openCopy}
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}
