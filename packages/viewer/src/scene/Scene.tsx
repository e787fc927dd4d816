import { lazy, Suspense, useMemo, useRef, useState } from 'react';
import { ErrorBoundary } from 'react-error-boundary';
import { figureText, lengthFigure } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import { useResult, useView } from '../state/hooks.ts';
import { Distances } from './Distances.tsx';
import { ConnectedGrips } from './grips/ConnectedGrips.tsx';
import { GripHand } from './grips/grip-store.ts';
import { hasWebGl } from './has-webgl.ts';
import { labelsOf, stationLabel } from './labels-of.ts';
import { ProbeLine } from './ProbeLine.tsx';
import { SavePicture } from './SavePicture.tsx';
import { ScaleBar } from './ScaleBar.tsx';
import { PictureControls, SceneControls, useIsBent } from './SceneControls.tsx';
import { useShown } from './shown-store.ts';
import './scene.css';

const Picture = lazy(() => import('./Picture.tsx'));

/** The 3D view with its controls and scale. Without WebGL the rest of the bench works on. */
export function Scene({ plain }: { plain: boolean }) {
  const back = useResult((result) => result.back);
  const isStale = useResult((result) => result.stale);
  const isWaiting = useResult((result) => result.fit === null && result.error === null);
  const showBack = useView((view) => view.showBack);
  const shown = useShown();
  const holder = useRef<HTMLDivElement>(null);
  const stationXMm = useView((view) => view.stationXMm);
  const units = useView((view) => view.units);
  const labels = useMemo(
    () => [
      ...(showBack ? (shown?.labels ?? labelsOf(back)) : []),
      stationLabel(stationXMm, TEXTS.scene.station(figureText(lengthFigure(stationXMm, units, { decimals: 0 })))),
    ],
    [back, shown?.labels, showBack, stationXMm, units],
  );
  const [canDraw] = useState(hasWebGl);
  const [hand] = useState(() => new GripHand());
  return (
    <section className="scene" aria-label={TEXTS.scene.name}>
      <SceneControls />
      <div className={isStale && shown === null ? 'scene-picture scene-stale' : 'scene-picture'}>
        {canDraw ? (
          <ErrorBoundary fallback={<NoPicture />}>
            <Suspense fallback={null}>
              <Picture labels={labels} holder={holder} hand={hand} plain={plain} />
            </Suspense>
            <div className="scene-labels" ref={holder} aria-hidden="true">
              {labels.map((label) => (
                <span key={label.id}>{label.text}</span>
              ))}
            </div>
            <ConnectedGrips hand={hand} />
          </ErrorBoundary>
        ) : (
          <NoPicture />
        )}
        <PictureControls more={canDraw ? <SavePicture /> : null} />
        <Bent />
        <Distances />
        {shown !== null && <p className="scene-shown">{shown.words}</p>}
        {isWaiting && <p className="scene-waiting">{TEXTS.scene.settling}</p>}
        <ProbeLine />
      </div>
      <ScaleBar />
    </section>
  );
}

/** What is exaggerated is said where it is seen. */
function Bent() {
  const times = useView((view) => view.bendingTimes);
  return useIsBent() && times > 1 ? <p className="scene-bent">{TEXTS.scene.bent(times)}</p> : null;
}

function NoPicture() {
  return <p className="scene-waiting">{TEXTS.scene.noWebGl}</p>;
}
