import type { InputErrorDetails } from '@barwright/geometry';
import { useMemo } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { FilesButton } from '../../look/FilesButton.tsx';
import { TWO_BACKS_TEXTS } from '../../look/texts/two-backs.ts';
import { todayIso } from '../../look/today.ts';
import { openBack, useView } from '../../state/index.ts';
import { closeDesk } from '../desk-store.ts';
import { HistoryButtons } from '../HistoryButtons.tsx';
import { useHistory } from '../use-history.ts';
import { BackSelect } from './BackSelect.tsx';
import { ChangeMap } from './Changes.tsx';
import { HowLaid } from './HowLaid.tsx';
import { Silhouette } from './Silhouette.tsx';
import type { ComparisonWish, ListedBack } from './two-backs-service.ts';
import { useComparison } from './use-comparison.ts';
import { ON_BENCH, useShelf } from './use-shelf.ts';
import { WhatChanged } from './WhatChanged.tsx';
import './two-backs.css';

interface Choice extends ComparisonWish {
  readonly before: string;
  readonly after: string;
}

const T = TWO_BACKS_TEXTS;

/** Before and after of one horse: where the back changed, and where measuring twice could look like that as well. */
export default function TwoBacksDesk() {
  const units = useView((view) => view.units);
  const { list, problems, open } = useShelf();
  const history = useHistory<Choice>(() => ({
    ...{ before: '', after: ON_BENCH, align: 'best fit', leaveOut: [], endsMm: 10, todayIso: todayIso() },
  }));
  const choice = history.now;
  const { align, leaveOut, endsMm } = choice;
  const wish = useMemo<ComparisonWish>(
    () => ({ align, leaveOut, endsMm, todayIso: choice.todayIso }),
    [align, leaveOut, endsMm, choice.todayIso],
  );
  const find = (id: string): ListedBack | null => list.find((item) => item.id === id) ?? null;
  const [before, after] = [find(choice.before), find(choice.after)];
  const { view, refusal, state, stop, again } = useComparison(before, after, wish);
  const change = (next: Partial<Choice>): void => history.change({ ...choice, ...next });
  return (
    <div className="desk-halves two-backs">
      <section
        className={state === 'working' ? 'desk-look two-backs-look stale' : 'desk-look two-backs-look'}
        aria-label={T.change.drawing}
        aria-busy={state === 'working'}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, and has to by keys too
        tabIndex={0}
      >
        {view === null ? (
          <p className="soft">{emptyWords(before, after, refusal, state)}</p>
        ) : (
          <>
            <Silhouette
              silhouettes={view.silhouettes}
              beforeOn={view.before.on}
              afterOn={view.after.on}
              units={units}
            />
            <ChangeMap svg={view.svg} name={`${view.before.name} ${view.before.on} ${view.after.on}`} />
          </>
        )}
      </section>
      <section className="desk-side" aria-label={T.which.label}>
        <HistoryButtons
          canUndo={history.canUndo}
          canRedo={history.canRedo}
          onUndo={history.undo}
          onRedo={history.redo}
        />
        <fieldset className="desk-form">
          <legend>{T.which.title}</legend>
          <BackSelect
            label={T.which.before}
            value={choice.before}
            list={list}
            onChange={(id) => change({ before: id })}
          />
          <BackSelect label={T.which.after} value={choice.after} list={list} onChange={(id) => change({ after: id })} />
          <div className="two-backs-buttons">
            <button type="button" onClick={() => change({ before: choice.after, after: choice.before })}>
              {T.which.swap}
            </button>
            <FilesButton
              says={T.which.open}
              label={T.which.openLabel}
              accept=".json,.ply,.obj,.stl,.glb,.3mf,.xyz,.pts,.asc,.txt,.csv"
              onFiles={(files) => void open(files)}
            />
          </div>
        </fieldset>
        {problems.map((problem) => (
          <div key={`${problem.file} ${problem.field}`}>
            <strong>{problem.file}</strong>
            <Problem problem={problem} />
          </div>
        ))}
        <p className="two-backs-state small" role="status">
          {state === 'working' && T.state.working}
          {state === 'stopped' && T.state.stopped}
          {before !== null && before.id === after?.id && T.state.same}
        </p>
        {state === 'working' && (
          <button type="button" onClick={stop}>
            {T.state.stop}
          </button>
        )}
        {state === 'stopped' && (
          <button type="button" onClick={again}>
            {T.state.again}
          </button>
        )}
        {refusal !== null && <Problem problem={refusal} />}
        {view !== null && <WhatChanged view={view} align={align} units={units} isOlder={state === 'working'} />}
        <HowLaid choice={choice} onChange={change} />
        <div className="desk-end">
          <button
            type="button"
            disabled={after === null || after.id === ON_BENCH}
            onClick={() => {
              if (after === null) return;
              openBack(after.back);
              closeDesk();
            }}
          >
            {T.change.setLater}
          </button>
        </div>
      </section>
    </div>
  );
}

function emptyWords(
  before: ListedBack | null,
  after: ListedBack | null,
  refusal: InputErrorDetails | null,
  state: string,
): string {
  if (refusal !== null) return T.empty.refused;
  if (state === 'working') return T.empty.working;
  if (before === null || after === null) return T.empty.choose;
  return before.id === after.id ? T.empty.same : T.empty.nothing;
}
