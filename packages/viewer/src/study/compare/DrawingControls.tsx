import { figureText, gapFigure, pressureFigure } from '../../look/format.ts';
import { TEXTS } from '../../look/texts.ts';
import { setView, useView } from '../../state/index.ts';
import type { DifferenceChoice } from './CompareStudy.tsx';
import { type DrawnResult, differenceOf } from './compare-layout.ts';
import type { MapKind } from './compare-service.ts';
import { DIFFERENCE_ENDS } from './difference-scale.ts';
import type { Matching } from './map-places.ts';

const T = TEXTS.compare;

interface ControlsProps {
  readonly results: readonly DrawnResult[];
  readonly map: MapKind;
  readonly choice: DifferenceChoice;
  readonly isLaidOn: boolean;
  readonly onChoice: (choice: DifferenceChoice) => void;
}

/** How the tree rests and what the maps show are the bench's own choices; the difference has its own. */
export function DrawingControls({ results, map, choice, isLaidOn, onChoice }: ControlsProps) {
  const set = (change: Partial<DifferenceChoice>): void => onChoice({ ...choice, ...change });
  return (
    <div className="compare-controls">
      <fieldset className="switch">
        <legend className="visually-hidden">{TEXTS.ruler.seating}</legend>
        <button type="button" aria-pressed={!isLaidOn} onClick={() => setView({ isLaidOn: false })}>
          {TEXTS.ruler.loaded}
        </button>
        <button type="button" aria-pressed={isLaidOn} onClick={() => setView({ isLaidOn: true })}>
          {TEXTS.ruler.laidOn}
        </button>
      </fieldset>
      <fieldset className="switch">
        <legend className="visually-hidden">{T.mapsShow}</legend>
        <button type="button" aria-pressed={map !== 'pressure'} onClick={() => setView({ colour: 'clearance' })}>
          {TEXTS.scene.colours.clearance}
        </button>
        <button type="button" aria-pressed={map === 'pressure'} onClick={() => setView({ colour: 'pressure' })}>
          {TEXTS.scene.colours.pressure}
        </button>
      </fieldset>
      {results.length > 1 && (
        <>
          <label className="small">
            <input type="checkbox" checked={choice.isShown} onChange={(e) => set({ isShown: e.target.checked })} />{' '}
            {T.showDifference}
          </label>
          {choice.isShown && <DifferenceControls {...{ results, map, choice }} onChange={set} />}
        </>
      )}
    </div>
  );
}

function DifferenceControls({
  results,
  map,
  choice,
  onChange,
}: Pick<ControlsProps, 'results' | 'map' | 'choice'> & { onChange: (change: Partial<DifferenceChoice>) => void }) {
  const units = useView((view) => view.units);
  const of = differenceOf(map);
  const letters = results.map(({ letter }) => letter);
  const pairs = letters.flatMap((first) => letters.flatMap((second) => (first === second ? [] : [{ first, second }])));
  const end = (value: number): string =>
    figureText(of === 'clearance' ? gapFigure(value, units, { decimals: 0 }) : pressureFigure(value, units));
  return (
    <>
      <label className="small">
        {T.difference}{' '}
        <select
          value={`${choice.first}${choice.second}`}
          onChange={({ target: { value } }) => onChange({ first: value[0]!, second: value[1]! })}
        >
          {pairs.map(({ first, second }) => (
            <option key={first + second} value={first + second}>
              {T.less(second, first)}
            </option>
          ))}
        </select>
      </label>
      <label className="small">
        {T.matchedBy}{' '}
        <select value={choice.matching} onChange={({ target: { value } }) => onChange({ matching: value as Matching })}>
          <option value="mm">{T.matchedByMm}</option>
          <option value="share">{T.matchedByShare}</option>
        </select>
      </label>
      <label className="small">
        {T.endsAt}{' '}
        <select
          value={choice.ends[of]}
          onChange={({ target: { value } }) => onChange({ ends: { ...choice.ends, [of]: Number(value) } })}
        >
          {DIFFERENCE_ENDS[of].map((value) => (
            <option key={value} value={value}>
              ± {end(value)}
            </option>
          ))}
        </select>
      </label>
    </>
  );
}
