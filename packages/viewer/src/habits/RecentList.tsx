import { openFiles } from '../files/open-files.ts';
import { TEXTS } from '../look/texts.ts';
import { resultStore } from '../state/index.ts';
import { clock, showPanel, useHabits } from './habits-store.ts';
import { filesOf, type RecentFiles } from './recent.ts';

const WORDS = TEXTS.saving;

/** Files that were opened before, to be opened again as they were then. */
export function RecentList() {
  const recent = useHabits((habits) => habits.recent);
  return (
    <>
      <h3>{WORDS.recent}</h3>
      <p className="soft">{recent.length === 0 ? WORDS.noRecent : WORDS.recentSays}</p>
      <ul className="habits-list">
        {recent.map((group) => (
          <li key={group.key}>
            <span>
              {clock(group.at)} {group.names.join(', ')}
            </span>
            <button type="button" onClick={() => void openAgain(group)}>
              {WORDS.openAgain}
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

async function openAgain(group: RecentFiles): Promise<void> {
  const files = await filesOf(group);
  showPanel(null);
  if (files.length === 0) resultStore.setState({ notice: WORDS.gone });
  else await openFiles(files);
}
