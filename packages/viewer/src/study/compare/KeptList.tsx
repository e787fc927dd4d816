import { useState } from 'react';
import { TEXTS } from '../../look/texts.ts';
import type { Shown } from './compare-run.ts';
import {
  BENCH,
  type KeptResult,
  keepBench,
  MOST_SHOWN,
  removeKept,
  renameKept,
  showKept,
  useKept,
} from './kept-store.ts';
import { putBack } from './put-back.ts';

const T = TEXTS.compare;

/** What is kept, which of it is drawn, and under which letter. */
export function KeptList({ shown }: { shown: readonly Shown[] }) {
  const kept = useKept((state) => state.kept);
  const [said, setSaid] = useState('');
  const letterOf = (id: string): string => shown.find((one) => one.id === id)?.letter ?? '';
  const isFull = shown.length >= MOST_SHOWN;
  return (
    <section className="compare-kept" aria-label={T.keptTitle}>
      <ul>
        <li>
          <ShowBox id={BENCH} letter={letterOf(BENCH)} isFull={isFull} name={T.asItStands} />
          <span>{T.asItStands}</span>
          <button type="button" onClick={() => void keepBench().then(setSaid)}>
            {T.keep}
          </button>
        </li>
        {kept.map((one) => (
          <KeptLine key={one.id} one={one} letter={letterOf(one.id)} isFull={isFull} />
        ))}
      </ul>
      <p className="small soft" role="status">
        {said === '' ? (kept.length === 0 ? T.keepHelp : T.showHelp(MOST_SHOWN)) : said}
      </p>
    </section>
  );
}

function KeptLine({ one, letter, isFull }: { one: KeptResult; letter: string; isFull: boolean }) {
  const [text, setText] = useState(one.name);
  const settle = (): void => {
    const name = text.trim().slice(0, 80);
    if (name === '') setText(one.name);
    else if (name !== one.name) renameKept(one.id, name);
  };
  return (
    <li>
      <ShowBox id={one.id} letter={letter} isFull={isFull} name={one.name} />
      <input
        aria-label={T.nameOf(one.name)}
        value={text}
        maxLength={80}
        onChange={(event) => setText(event.target.value)}
        onBlur={settle}
        onKeyDown={(event) => event.key === 'Enter' && settle()}
      />
      <button type="button" aria-label={`${T.putBack}: ${one.name}`} onClick={() => void putBack(one)}>
        {T.putBack}
      </button>
      <button type="button" aria-label={`${T.takeOut}: ${one.name}`} onClick={() => removeKept(one.id)}>
        {T.takeOut}
      </button>
    </li>
  );
}

function ShowBox({ id, letter, isFull, name }: { id: string; letter: string; isFull: boolean; name: string }) {
  return (
    <label className="compare-show">
      <input
        type="checkbox"
        aria-label={T.show(name)}
        checked={letter !== ''}
        disabled={letter === '' && isFull}
        onChange={(event) => showKept(id, event.target.checked)}
      />
      <strong>{letter === '' ? '–' : letter}</strong>
    </label>
  );
}
