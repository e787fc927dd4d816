import { lazy, type ReactNode, Suspense } from 'react';
import { ErrorBoundary } from 'react-error-boundary';
import { Broken } from '../app/Broken.tsx';
import { DESK_TEXTS } from '../look/texts/desk.ts';
import { closeDesk, type DeskWork } from './desk-store.ts';
import './desk.css';

const T = DESK_TEXTS;

const ScanDesk = lazy(() => import('./scan/ScanDesk.tsx'));
const TracingsDesk = lazy(() => import('./tracings/TracingsDesk.tsx'));
const PhotoDesk = lazy(() => import('./photo/PhotoDesk.tsx'));
const NumbersDesk = lazy(() => import('./numbers/NumbersDesk.tsx'));
const TwoBacksDesk = lazy(() => import('./two-backs/TwoBacksDesk.tsx'));

/** The measuring desk: takes the bench's place while raw material becomes a back. Each kind of work loads on its own. */
export function Desk({ work }: { work: DeskWork }) {
  return (
    <main className="desk" aria-label={titleOf(work)}>
      <div className="desk-head">
        <h2>{titleOf(work)}</h2>
        <button type="button" onClick={closeDesk}>
          {T.toBench}
        </button>
      </div>
      <ErrorBoundary FallbackComponent={Broken}>
        <Suspense fallback={<p className="soft desk-wait">{T.working}</p>}>{deskFor(work)}</Suspense>
      </ErrorBoundary>
    </main>
  );
}

function deskFor(work: DeskWork): ReactNode {
  switch (work.kind) {
    case 'scan':
      return <ScanDesk key={work.fileName} fileName={work.fileName} bytes={work.bytes} />;
    case 'tracings':
      return <TracingsDesk key={work.fileName} fileName={work.fileName} source={work.source} />;
    case 'photo':
      return <PhotoDesk images={work.images} />;
    case 'numbers':
      return <NumbersDesk />;
    case 'two-backs':
      return <TwoBacksDesk />;
  }
}

const titleOf = (work: DeskWork): string =>
  'fileName' in work ? T.titleOf(T.titles[work.kind], work.fileName) : T.titles[work.kind];
