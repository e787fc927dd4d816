import { type ReactNode, useEffect, useRef, useState } from 'react';
import { fileNameFor, saveJson } from '../files/save-file.ts';
import { TEXTS } from '../look/texts.ts';
import { linkToBench, saveBench } from '../share/save-bench.ts';
import { documentStore, useDocument } from '../state/index.ts';

const WORDS = TEXTS.saving;

/** What can leave the bench: all of it in one file or one link, or one part. */
export function SavePanel() {
  return (
    <>
      <Way title={WORDS.whole} says={WORDS.wholeSays}>
        <button type="button" className="strong" onClick={() => void saveBench()}>
          {WORDS.saveWhole}
        </button>
      </Way>
      <LinkWay />
      <Way title={WORDS.parts} says={WORDS.partsSays}>
        <div className="head-group">
          <PartButtons />
        </div>
      </Way>
    </>
  );
}

function Way({ title, says, children }: { title: string; says: string; children: ReactNode }) {
  return (
    <section className="save-way">
      <h3>{title}</h3>
      <p className="soft">{says}</p>
      {children}
    </section>
  );
}

type Link = { readonly kind: 'making' | 'too-long' } | { readonly kind: 'made'; readonly text: string };

/** The link is made when the panel opens, so that copying it is one press. */
function LinkWay() {
  const [link, setLink] = useState<Link>({ kind: 'making' });
  const [copied, setCopied] = useState<boolean | null>(null);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    let isGone = false;
    linkToBench().then(
      (text) => isGone || setLink(text === null ? { kind: 'too-long' } : { kind: 'made', text }),
      () => isGone || setLink({ kind: 'too-long' }),
    );
    return () => {
      isGone = true;
    };
  }, []);
  const copy = async (text: string): Promise<void> => {
    field.current?.select();
    const done = await navigator.clipboard?.writeText(text).then(
      () => true,
      () => false,
    );
    setCopied(done ?? false);
  };
  if (link.kind === 'too-long') {
    return (
      <Way title={WORDS.link} says={WORDS.tooLong}>
        {null}
      </Way>
    );
  }
  const text = link.kind === 'made' ? link.text : '';
  return (
    <Way title={WORDS.link} says={WORDS.linkSays}>
      <div className="save-link">
        <input ref={field} readOnly value={text} aria-label={WORDS.link} onFocus={(e) => e.currentTarget.select()} />
        <button type="button" disabled={text === ''} onClick={() => void copy(text)}>
          {WORDS.copyLink}
        </button>
      </div>
      <p className="soft" role="status">
        {copied === null ? text !== '' && WORDS.linkLength(text.length) : copied ? WORDS.copied : WORDS.copyByHand}
      </p>
    </Way>
  );
}

function PartButtons() {
  const { name: patternName } = useDocument((documents) => documents.pattern);
  const hasMesh = useDocument((documents) => documents.back.mesh !== null);
  const save = (which: 'pattern' | 'setup' | 'back'): void => {
    const { pattern, setup, back } = documentStore.getState();
    const json = { pattern, setup, back: back.json }[which];
    saveJson(json, fileNameFor({ pattern: patternName, setup: setup.name, back: back.name }[which], which));
  };
  return (
    <>
      <button type="button" onClick={() => save('pattern')}>
        {WORDS.pattern}
      </button>
      <button type="button" onClick={() => save('back')} title={hasMesh ? WORDS.scanApart : undefined}>
        {WORDS.back}
      </button>
      <button type="button" onClick={() => save('setup')}>
        {WORDS.setup}
      </button>
    </>
  );
}
