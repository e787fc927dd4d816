import { TEXTS } from '../look/texts.ts';
import { WORDS, type WordId, wordsIn } from './dictionary.ts';
import { openWord } from './word-store.ts';
import './words.css';

/** A trade word that shows what it means when touched. */
export function Word({ id, children }: { id: WordId; children?: string }) {
  return (
    <button
      type="button"
      className="word"
      aria-haspopup="dialog"
      title={TEXTS.words.touch}
      onClick={(event) => openWord(id, event.currentTarget)}
    >
      {children ?? WORDS[id].name}
    </button>
  );
}

/** A label whose trade word, if it has one, can be touched. */
export function WithWord({ text }: { text: string }) {
  const [id] = wordsIn(text);
  return id === undefined ? text : <Word id={id}>{text}</Word>;
}

/** The trade words of a sentence that is a button itself, in a row of their own. */
export function WordsOf({ text }: { text: string }) {
  return <WordRow ids={wordsIn(text)} />;
}

export function WordRow({ ids }: { ids: readonly WordId[] }) {
  if (ids.length === 0) return null;
  return (
    <p className="word-row small soft">
      {TEXTS.words.row}{' '}
      {ids.map((id) => (
        <Word key={id} id={id} />
      ))}
    </p>
  );
}
