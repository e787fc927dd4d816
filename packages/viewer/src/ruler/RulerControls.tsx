import { TEXTS } from '../look/texts.ts';
import type { RulerProps } from './ruler-props.ts';

const T = TEXTS.ruler;
const EXAGGERATIONS = [1, 2, 3, 4];

type ControlsProps = Pick<RulerProps, 'isLaidOn' | 'onLaidOn' | 'exaggeration' | 'onExaggeration' | 'onOpenCut'>;

/** What the ruler shows and how tall it draws heights. */
export function RulerControls({ isLaidOn, onLaidOn, exaggeration, onExaggeration, onOpenCut }: ControlsProps) {
  return (
    <div className="ruler-controls">
      <h2>{T.title}</h2>
      <fieldset className="switch">
        <legend className="visually-hidden">{T.seating}</legend>
        <button type="button" aria-pressed={!isLaidOn} onClick={() => onLaidOn(false)}>
          {T.loaded}
        </button>
        <button type="button" aria-pressed={isLaidOn} onClick={() => onLaidOn(true)}>
          {T.laidOn}
        </button>
      </fieldset>
      <label className="small ruler-vertical">
        {T.taller}{' '}
        <select value={String(exaggeration)} onChange={(event) => onExaggeration(Number(event.target.value))}>
          {[...new Set([...EXAGGERATIONS, exaggeration])].map((factor) => (
            <option key={factor} value={String(factor)}>
              × {factor}
            </option>
          ))}
        </select>
      </label>
      <button type="button" onClick={onOpenCut}>
        {TEXTS.cut.open}
      </button>
      <p className="small soft ruler-note" title={T.dragHint}>
        {isLaidOn ? T.laidOnNote : T.loadedNote}
      </p>
    </div>
  );
}
