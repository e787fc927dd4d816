import { type ReactNode, useEffect, useState } from 'react';
import { ErrorBoundary } from 'react-error-boundary';
import { Broken } from './app/Broken.tsx';
import { Header } from './app/Header.tsx';
import { Progress } from './app/Progress.tsx';
import { ErrorStrip, NoticeStrip, OfferStrip, SavedWord } from './app/Strips.tsx';
import { useDrop } from './app/use-drop.ts';
import { ConnectedSetupCard, ConnectedSpecCard } from './card/index.ts';
import { ConnectedCut } from './cut/index.ts';
import { Desk } from './desk/Desk.tsx';
import { useDeskWork } from './desk/desk-store.ts';
import { openServedFiles } from './files/open-files.ts';
import { HabitsPanel } from './habits/HabitsPanel.tsx';
import { readRecent } from './habits/recent.ts';
import { useKeys } from './habits/use-keys.ts';
import { useIsAsking } from './lesson/asking.ts';
import { LessonBar } from './lesson/LessonBar.tsx';
import { LessonSheet } from './lesson/LessonSheet.tsx';
import { TEXTS } from './look/texts.ts';
import { ConnectedCautions, ConnectedReading } from './reading/index.ts';
import { ConnectedRuler } from './ruler/index.ts';
import { Scene } from './scene/Scene.tsx';
import { openLink, watchLinks } from './share/open-bench.ts';
import { boot } from './state/boot.ts';
import { documentStore, nextVersionName, setView, startFromHere, useView } from './state/index.ts';
import { keepVersion } from './state/versions.ts';
import { StudyBar, StudySheet } from './study/Studies.tsx';
import { WordCard } from './words/WordCard.tsx';
import { startComputing } from './worker/compute-client.ts';
import './app/app.css';
import './lesson/projector.css';

const T = TEXTS.page;

/** The bench: one ruler, one card, one reading, round the view of back and bars. */
export function App({ query }: { query: URLSearchParams }) {
  const { isReady, fault } = useBench(query);
  const theme = useView((view) => view.theme);
  useEffect(() => {
    document.documentElement.dataset.theme = theme;
  }, [theme]);
  const lookAt = useView((view) => view.lookAt);
  const isAsking = useIsAsking();
  const projector = useView((view) => view.projector);
  const isOver = useDrop();
  useKeys();
  return (
    <div
      className="bench"
      data-ready={isReady}
      data-look-at={lookAt ?? undefined}
      data-asking={isAsking || undefined}
      data-projector={projector || undefined}
    >
      <Guarded>{isReady ? <Header /> : <h1 className="head head-name">{T.name}</h1>}</Guarded>
      {fault !== null && (
        <p className="strip strip-error" role="alert">
          {T.notStarted(fault)}
        </p>
      )}
      {isReady && <Bench plain={query.has('test')} />}
      <WordCard />
      {isReady && <LessonSheet />}
      <Guarded>
        <HabitsPanel />
      </Guarded>
      {isOver && <p className="drop-here">{T.drop}</p>}
    </div>
  );
}

/** Restores what was on the bench and keeps it computed; true when panels can be drawn. */
function useBench(query: URLSearchParams): { isReady: boolean; fault: string | null } {
  const [isReady, setReady] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    let isGone = false;
    const stops: (() => void)[] = [];
    const start = async (): Promise<void> => {
      const stop = await boot(query);
      if (isGone) return stop();
      stops.push(stop, watchLinks());
      await openLink();
      if (isGone) return;
      stops.push(startComputing());
      setReady(true);
      void readRecent();
      if (query.has('files')) await openServedFiles(query.get('files') || 'files/index.json');
    };
    start().catch((error: unknown) => setFault(error instanceof Error ? error.message : String(error)));
    return () => {
      isGone = true;
      for (const stop of stops) stop();
    };
  }, [query]);
  return { isReady, fault };
}

function Bench({ plain }: { plain: boolean }) {
  const work = useDeskWork();
  return (
    <>
      <div className="bench-strips">
        <ErrorStrip />
        <NoticeStrip />
        <OfferStrip />
        <Progress />
        <LessonBar />
      </div>
      {work === null ? <Main plain={plain} /> : <Desk work={work} />}
      <footer className="bench-cautions">
        <Guarded>
          <ConnectedCautions />
        </Guarded>
        <SavedWord />
      </footer>
    </>
  );
}

function Main({ plain }: { plain: boolean }) {
  const cutOpen = useView((view) => view.cutOpen);
  return (
    <main className="bench-main">
      <div className="bench-left">
        <div className="bench-scene">
          <Guarded>
            <Scene plain={plain} />
          </Guarded>
        </div>
        <div className="bench-ruler">
          <div className="bench-ruler-body">
            <Guarded>
              <ConnectedRuler />
            </Guarded>
          </div>
          {cutOpen && (
            <div className="bench-cut">
              <Guarded>
                <ConnectedCut />
              </Guarded>
            </div>
          )}
          <div className="study-place">
            <StudySheet />
            <StudyBar />
          </div>
        </div>
      </div>
      <div className="bench-side">
        <div className="bench-reading">
          <Guarded>
            <ConnectedReading />
          </Guarded>
        </div>
        <Cards />
      </div>
    </main>
  );
}

/** Spec card and setup share a place; on a phone it is a sheet. */
function Cards() {
  const [shown, setShown] = useState<'card' | 'setup'>('card');
  const isOpen = useView((view) => view.cardOpen);
  const open = (which: 'card' | 'setup'): void => {
    setView({ cardOpen: !(isOpen && shown === which) });
    setShown(which);
  };
  return (
    <div className={isOpen ? 'bench-card bench-card-open' : 'bench-card'}>
      <div className="bench-card-switch">
        <fieldset className="switch">
          <legend className="visually-hidden">{T.cards}</legend>
          <button type="button" aria-pressed={shown === 'card'} onClick={() => open('card')}>
            {T.specCard}
          </button>
          <button type="button" aria-pressed={shown === 'setup'} onClick={() => open('setup')}>
            {T.setup}
          </button>
        </fieldset>
        <button type="button" className="bench-version" title={T.startVersionHelp} onClick={startVersion}>
          {T.startVersion}
        </button>
      </div>
      <div className="bench-card-body">
        <Guarded>{shown === 'card' ? <ConnectedSpecCard /> : <ConnectedSetupCard />}</Guarded>
      </div>
    </div>
  );
}

/** What stood on the bench is kept among the versions, and becomes the parent of what follows. */
function startVersion(): void {
  const { name } = documentStore.getState().pattern;
  void keepVersion(name);
  startFromHere(nextVersionName(name));
}

/** Each part breaks alone. */
function Guarded({ children }: { children: ReactNode }) {
  return <ErrorBoundary FallbackComponent={Broken}>{children}</ErrorBoundary>;
}
