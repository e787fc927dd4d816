import { useEffect, useRef } from 'react';
import { goBackTo, openCopyOf } from './go-back.ts';
import { clock, showPanel, useHabits } from './habits-store.ts';
import { KEYS_OF_PARTS, SHORTCUTS } from './keys.ts';
import { RecentList } from './RecentList.tsx';
import { SavePanel } from './SavePanel.tsx';
import './habits.css';

const TITLES = { kept: 'Kept in this browser', keys: 'Keys', save: 'Save and share' } as const;

/** What lies over the bench when asked for: earlier states and other work, or the list of keys. */
export function HabitsPanel() {
  const panel = useHabits((habits) => habits.panel);
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    if (panel !== null && dialog.current?.open === false) dialog.current.showModal();
  }, [panel]);
  if (panel === null) return null;
  return (
    <dialog ref={dialog} className="habits" aria-label={TITLES[panel]} onClose={() => showPanel(null)}>
      <div className="habits-head">
        <h2>{TITLES[panel]}</h2>
        <button type="button" onClick={() => showPanel(null)}>
          Close
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
      <p className="soft">None of them works while you type into a field. On a Mac, Command does for Ctrl.</p>
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
      <h3>Earlier states</h3>
      <p className="soft">
        The last changes of this tab, newest first. Going back is itself a step that can be undone.
      </p>
      <ol className="habits-list">
        {[...history].reverse().map((state, index) => (
          <li key={state.key}>
            <span>
              {clock(state.at)} {state.says}
            </span>
            {index === 0 ? (
              <span className="soft">on the bench now</span>
            ) : (
              <button type="button" onClick={() => void goBackTo(state).then(() => showPanel(null))}>
                Go back to this
              </button>
            )}
          </li>
        ))}
      </ol>
      <RecentList />
      <h3>Other tabs and earlier visits</h3>
      {others.length === 0 && <p className="soft">None is kept here.</p>}
      <ul className="habits-list">
        {others.map((other) => (
          <li key={other.id}>
            <span>
              {clock(other.at)} {other.name}
            </span>
            <button type="button" onClick={() => void openCopyOf(other).then(() => showPanel(null))}>
              Open a copy here
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}
