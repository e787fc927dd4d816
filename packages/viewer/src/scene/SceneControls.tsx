import { useView } from '../state/hooks.ts';
import { lookFrom, setView } from '../state/view-actions.ts';
import type { ColourMode, ViewFrom } from '../state/view-state.ts';

const VIEWS: readonly (readonly [ViewFrom, string])[] = [
  ['three-quarter', 'Three-quarter'],
  ['left', 'Left'],
  ['right', 'Right'],
  ['above', 'Above'],
  ['below', 'Below'],
];

const COLOURS: readonly (readonly [ColourMode, string])[] = [
  ['clearance', 'Clearance'],
  ['pressure', 'Pressure'],
];

export function SceneControls() {
  const from = useView((view) => view.from);
  const colour = useView((view) => view.colour);
  const isLaidOn = useView((view) => view.isLaidOn);
  const seeThrough = useView((view) => view.barsSeeThrough);
  const showBack = useView((view) => view.showBack);
  const showGhost = useView((view) => view.showGhost);
  return (
    <div className="scene-controls">
      <fieldset className="switch">
        <legend className="visually-hidden">Colour of the undersides</legend>
        {COLOURS.map(([name, word]) => (
          <button
            key={name}
            type="button"
            aria-pressed={colour === name}
            onClick={() => setView(name === 'pressure' ? { colour: name, isLaidOn: false } : { colour: name })}
          >
            {word}
          </button>
        ))}
      </fieldset>
      <fieldset className="switch">
        <legend className="visually-hidden">How the tree rests in the picture</legend>
        <button type="button" aria-pressed={!isLaidOn} onClick={() => setView({ isLaidOn: false })}>
          Under the rider
        </button>
        <button
          type="button"
          aria-pressed={isLaidOn}
          title="Saddle only on near-rigid layers, to read the shapes"
          onClick={() => setView({ isLaidOn: true, colour: 'clearance' })}
        >
          Laid on
        </button>
      </fieldset>
      <fieldset className="switch">
        <legend className="visually-hidden">Look from</legend>
        {VIEWS.map(([name, word]) => (
          <button
            key={name}
            type="button"
            aria-pressed={from === name}
            aria-label={`Look from ${word.toLowerCase()}`}
            onClick={() => lookFrom(name)}
          >
            {word}
          </button>
        ))}
      </fieldset>
      <label className="scene-slider">
        Wood
        <input
          type="range"
          min={0}
          max={1}
          step={0.05}
          value={1 - seeThrough}
          aria-label="How solid the bars' wood is drawn"
          onChange={(event) => setView({ barsSeeThrough: 1 - event.currentTarget.valueAsNumber })}
        />
      </label>
      <label>
        <input
          type="checkbox"
          checked={showBack}
          onChange={(event) => setView({ showBack: event.currentTarget.checked })}
        />
        Back
      </label>
      <label>
        <input
          type="checkbox"
          checked={showGhost}
          onChange={(event) => setView({ showGhost: event.currentTarget.checked })}
        />
        Fork, cantle, seat
      </label>
    </div>
  );
}
