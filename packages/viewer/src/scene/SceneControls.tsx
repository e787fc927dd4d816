import type { ReactNode } from 'react';
import { TEXTS } from '../look/texts.ts';
import { useResult, useView } from '../state/hooks.ts';
import { lookFrom, setView } from '../state/view-actions.ts';
import { BENDING_TIMES, COLOUR_MODES, type ColourMode, type ViewFrom, type ViewState } from '../state/view-state.ts';
import { setMeasuring, useMeasuring } from './measure-store.ts';
import { SavedViews } from './SavedViews.tsx';
import { useShown } from './shown-store.ts';

const VIEWS: readonly ViewFrom[] = ['three-quarter', 'left', 'right', 'above', 'below'];

const T = TEXTS.scene;

/** Laid on there is nothing of these to see. */
const UNDER_RIDER: readonly ColourMode[] = ['pressure', 'give', 'squeeze'];

/** What is coloured, how the tree rests, and from where one looks. */
export function SceneControls() {
  const from = useView((view) => view.from);
  const colour = useView((view) => view.colour);
  const isLaidOn = useView((view) => view.isLaidOn);
  return (
    <div className="scene-controls">
      <fieldset className="switch">
        <legend className="visually-hidden">{T.colourOf}</legend>
        {COLOUR_MODES.map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={colour === name}
            title={T.colourHelp[name]}
            onClick={() => setView(UNDER_RIDER.includes(name) ? { colour: name, isLaidOn: false } : { colour: name })}
          >
            {T.colours[name]}
          </button>
        ))}
      </fieldset>
      <fieldset className="switch">
        <legend className="visually-hidden">{T.restsHow}</legend>
        <button type="button" aria-pressed={!isLaidOn} onClick={() => setView({ isLaidOn: false })}>
          {T.underRider}
        </button>
        <button
          type="button"
          aria-pressed={isLaidOn}
          title={T.laidOnHelp}
          onClick={() => setView({ isLaidOn: true, colour: UNDER_RIDER.includes(colour) ? 'clearance' : colour })}
        >
          {T.laidOn}
        </button>
      </fieldset>
      <fieldset className="switch">
        <legend className="visually-hidden">{T.lookFrom}</legend>
        {VIEWS.map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={from === name}
            aria-label={T.lookFromWord(T.views[name])}
            onClick={() => lookFrom(name)}
          >
            {T.views[name]}
          </button>
        ))}
      </fieldset>
    </div>
  );
}

/**
 * What is drawn and what can be done with the picture; lies over its upper edge, so that the picture keeps the room.
 *
 * @param more what else stands in the row
 */
export function PictureControls({ more }: { more: ReactNode }) {
  const seeThrough = useView((view) => view.barsSeeThrough);
  const showBack = useView((view) => view.showBack);
  const showGhost = useView((view) => view.showGhost);
  const isCut = useView((view) => view.isCut);
  const isMeasuring = useMeasuring().isOn;
  return (
    <div className="scene-controls scene-over">
      <label className="scene-slider">
        {T.wood}
        <input
          type="range"
          min={0}
          max={1}
          step={0.05}
          value={1 - seeThrough}
          aria-label={T.woodHelp}
          onChange={(event) => setView({ barsSeeThrough: 1 - event.currentTarget.valueAsNumber })}
        />
      </label>
      <label>
        <input
          type="checkbox"
          checked={showBack}
          onChange={(event) => setView({ showBack: event.currentTarget.checked })}
        />
        {T.back}
      </label>
      <label>
        <input
          type="checkbox"
          checked={showGhost}
          onChange={(event) => setView({ showGhost: event.currentTarget.checked })}
        />
        {T.ghost}
      </label>
      <label>
        <input type="checkbox" checked={isCut} onChange={(event) => setView({ isCut: event.currentTarget.checked })} />
        {TEXTS.looking.cut}
      </label>
      <button type="button" aria-pressed={isMeasuring} onClick={() => setMeasuring(!isMeasuring)}>
        {TEXTS.looking.measure}
      </button>
      <SavedViews />
      {more}
      <Bending />
    </div>
  );
}

/** Only where something is bent. */
function Bending() {
  const times = useView((view) => view.bendingTimes);
  if (!useIsBent()) return null;
  return (
    <label title={T.bendingHelp}>
      {T.bending}
      <select
        value={times}
        onChange={(event) => setView({ bendingTimes: Number(event.currentTarget.value) as ViewState['bendingTimes'] })}
      >
        {BENDING_TIMES.map((n) => (
          <option key={n} value={n}>
            × {n}
          </option>
        ))}
      </select>
    </label>
  );
}

/** true where the bars in the picture are bent. */
export function useIsBent(): boolean {
  const own = useResult((result) => result.fit?.bars.right.bentMm != null);
  const isLaidOn = useView((view) => view.isLaidOn);
  const shown = useShown();
  return shown === null ? own && !isLaidOn : shown.bars.right.bentMm !== null;
}
