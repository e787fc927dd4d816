import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import { TEXTS } from '../look/texts.ts';
import { type Drawing, WORDS } from './dictionary.ts';
import { closeWord, useOpenWord } from './word-store.ts';
import './words.css';

const MARGIN_PX = 8;

/** The touched word: a small drawing and one sentence, beside where it stands. Escape or a touch elsewhere closes it. */
export function WordCard() {
  const open = useOpenWord();
  const card = useRef<HTMLDivElement>(null);
  const [place, setPlace] = useState({ left: 0, top: 0 });
  useLayoutEffect(() => {
    if (open === null || card.current === null) return;
    setPlace(placeBeside(open.from.getBoundingClientRect(), card.current));
    card.current.focus();
  }, [open]);
  useEffect(() => {
    if (open === null) return;
    const touched = (event: PointerEvent): void => {
      if (!card.current?.contains(event.target as Node)) closeWord(false);
    };
    window.addEventListener('pointerdown', touched);
    return () => window.removeEventListener('pointerdown', touched);
  }, [open]);
  if (open === null) return null;
  const { name, means, drawing } = WORDS[open.id];
  return (
    <div
      ref={card}
      className="word-card"
      role="dialog"
      aria-label={name}
      tabIndex={-1}
      style={place}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        event.stopPropagation();
        closeWord(true);
      }}
    >
      <h3>{name}</h3>
      <Sketch name={name} drawing={drawing} />
      <p>{means}</p>
      <button type="button" onClick={() => closeWord(true)}>
        {TEXTS.lesson.close}
      </button>
    </div>
  );
}

function Sketch({ name, drawing }: { name: string; drawing: Drawing }) {
  return (
    <svg viewBox="0 0 240 110" role="img" aria-label={TEXTS.words.drawing(name)}>
      {drawing.strokes.map(([kind, d]) => (
        <path key={`${kind}${d}`} className={`word-${kind}`} d={d} />
      ))}
      {drawing.texts.map(([x, y, text]) => (
        <text key={text} x={x} y={y}>
          {text}
        </text>
      ))}
    </svg>
  );
}

/** Under the word, or over it where there is no room, always within the window. */
function placeBeside(word: DOMRect, card: HTMLElement): { left: number; top: number } {
  const { width, height } = card.getBoundingClientRect();
  const below = word.bottom + MARGIN_PX;
  const fits = below + height < window.innerHeight;
  const most = window.innerWidth - width - MARGIN_PX;
  return {
    left: Math.max(MARGIN_PX, Math.min(most, word.left)),
    top: fits ? below : Math.max(MARGIN_PX, word.top - height - MARGIN_PX),
  };
}
