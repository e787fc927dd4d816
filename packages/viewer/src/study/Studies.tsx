import { lazy, type ReactNode, Suspense, useEffect } from 'react';
import { ErrorBoundary } from 'react-error-boundary';
import { Broken } from '../app/Broken.tsx';
import { STUDIES_TEXTS } from '../look/texts/studies.ts';
import { TEXTS } from '../look/texts.ts';
import { KeepButton } from './compare/KeepButton.tsx';
import { followBacks } from './horses/seen-backs.ts';
import { openStudy, type Study, useStudy } from './study-store.ts';
import './study.css';

const T = STUDIES_TEXTS;

const Shoulder = lazy(() => import('./shoulder/ShoulderStudy.tsx'));
const Riding = lazy(() => import('./riding/RidingStudy.tsx'));
const Sizing = lazy(() => import('./sizing/SizingStudy.tsx'));
const Reach = lazy(() => import('./reach/ReachStudy.tsx'));
const Give = lazy(() => import('./give/GiveStudy.tsx'));
const TakeOff = lazy(() => import('./takeoff/TakeOffStudy.tsx'));
const Stations = lazy(() => import('./stations/StationsStudy.tsx'));
const Compare = lazy(() => import('./compare/CompareStudy.tsx'));
const Horses = lazy(() => import('./horses/HorsesStudy.tsx'));
const Maps = lazy(() => import('./maps/MapsStudy.tsx'));
const Sure = lazy(() => import('./sure/SureStudy.tsx'));

const STUDIES: Readonly<
  Record<Study, { readonly name: string; readonly says: string; readonly body: () => ReactNode }>
> = {
  compare: { name: TEXTS.compare.name, says: TEXTS.compare.says, body: () => <Compare /> },
  horses: { name: TEXTS.horses.name, says: TEXTS.horses.says, body: () => <Horses /> },
  maps: { name: TEXTS.maps.name, says: TEXTS.maps.says, body: () => <Maps /> },
  shoulder: { ...T.shoulder, body: () => <Shoulder /> },
  riding: { ...T.riding, body: () => <Riding /> },
  sizing: { ...T.sizing, body: () => <Sizing /> },
  reach: { ...T.reach, body: () => <Reach /> },
  give: { name: TEXTS.give.name, says: TEXTS.give.says, body: () => <Give /> },
  sure: { ...T.sure, body: () => <Sure /> },
  takeoff: { name: TEXTS.takeOff.name, says: TEXTS.takeOff.says, body: () => <TakeOff /> },
  stations: { name: TEXTS.stations.name, says: TEXTS.stations.says, body: () => <Stations /> },
};

const buttonId = (study: Study): string => `study-${study}`;

/** The keyboard is back where it opened the study. */
function closeStudy(study: Study): void {
  openStudy(null);
  document.getElementById(buttonId(study))?.focus();
}

/** The row of studies, and the open one as a sheet over the ruler. */
export function StudyBar() {
  const open = useStudy();
  useEffect(() => followBacks(), []);
  return (
    <nav className="study-bar" aria-label={T.label}>
      {(Object.keys(STUDIES) as Study[]).map((study) => (
        <button
          key={study}
          id={buttonId(study)}
          type="button"
          aria-pressed={open === study}
          title={STUDIES[study].says}
          onClick={() => openStudy(open === study ? null : study)}
        >
          {STUDIES[study].name}
        </button>
      ))}
      <KeepButton />
    </nav>
  );
}

export function StudySheet() {
  const open = useStudy();
  if (open === null) return null;
  const { name, says, body } = STUDIES[open];
  return (
    <section className="study" aria-label={name}>
      <div className="study-head">
        <h2>{name}</h2>
        <p className="small soft">{says}</p>
        <button type="button" onClick={() => closeStudy(open)}>
          {T.close}
        </button>
      </div>
      <div className="study-body">
        <ErrorBoundary FallbackComponent={Broken}>
          <Suspense fallback={<p className="soft">{T.working}</p>}>{body()}</Suspense>
        </ErrorBoundary>
      </div>
    </section>
  );
}
