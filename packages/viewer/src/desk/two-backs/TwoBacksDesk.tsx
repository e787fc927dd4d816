import type { InputErrorDetails } from '@barwright/geometry';
import { useMemo, useState } from 'react';
import { Problem } from '../../card/TypedField.tsx';
import { DEMO_BACKS, demoBack } from '../../files/demos.ts';
import { FilesButton } from '../../look/FilesButton.tsx';
import { todayIso } from '../../look/today.ts';
import { type OpenedBack, openBack, useDocument, useView } from '../../state/index.ts';
import { closeDesk } from '../desk-store.ts';
import { HistoryButtons } from '../HistoryButtons.tsx';
import { useHistory } from '../use-history.ts';
import { ChangeMap, ChangeTable, MeasuredWords } from './Changes.tsx';
import { readBacks } from './open-backs.ts';
import { Silhouette } from './Silhouette.tsx';
import type { ComparisonWish, ListedBack, Sixth } from './two-backs-service.ts';
import { useComparison } from './use-comparison.ts';
import './two-backs.css';

interface Choice extends ComparisonWish {
  readonly before: string;
  readonly after: string;
}

const SIXTHS: readonly Sixth[] = [
  'left front',
  'left middle',
  'left rear',
  'right front',
  'right middle',
  'right rear',
];
const ENDS_MM = [5, 10, 20, 40];
const ON_BENCH = 'bench';

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
        aria-label="Change"
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
      <section className="desk-side" aria-label="Which two, and how">
        <HistoryButtons
          canUndo={history.canUndo}
          canRedo={history.canRedo}
          onUndo={history.undo}
          onRedo={history.redo}
        />
        <fieldset className="desk-form">
          <legend>The two backs</legend>
          <BackSelect label="Before" value={choice.before} list={list} onChange={(id) => change({ before: id })} />
          <BackSelect label="After" value={choice.after} list={list} onChange={(id) => change({ after: id })} />
          <div className="two-backs-buttons">
            <button type="button" onClick={() => change({ before: choice.after, after: choice.before })}>
              Swap
            </button>
            <FilesButton
              says="Open backs"
              label="Backs to compare"
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
          {state === 'working' && 'Laying the two together… '}
          {state === 'stopped' && 'Stopped. '}
          {before !== null && before.id === after?.id && 'Before and after are the same back. '}
        </p>
        {state === 'working' && (
          <button type="button" onClick={stop}>
            Stop
          </button>
        )}
        {state === 'stopped' && (
          <button type="button" onClick={again}>
            Compare again
          </button>
        )}
        {refusal !== null && <Problem problem={refusal} />}
        {view !== null && (
          <section
            className={state === 'working' ? 'two-backs-said stale' : 'two-backs-said'}
            aria-label="What changed"
          >
            {view.doubts.length > 0 && (
              <div className="problem">
                <p>These two may not be one horse:</p>
                <ul className="desk-said">
                  {view.doubts.map((doubt) => (
                    <li key={doubt}>{doubt}</li>
                  ))}
                </ul>
              </div>
            )}
            <ChangeTable view={view} align={align} units={units} />
            <ul className="desk-said">
              {view.sentences.map((sentence) => (
                <li key={sentence}>{sentence}</li>
              ))}
            </ul>
            <MeasuredWords title="Before" side={view.before} units={units} />
            <MeasuredWords title="After" side={view.after} units={units} />
            {view.due !== null && <p className={view.due.due ? 'two-backs-due' : 'small soft'}>{view.due.sentence}</p>}
            {[...new Set([...view.before.warnings, ...view.after.warnings])].map((warning) => (
              <p key={warning} className="small soft">
                {warning}
              </p>
            ))}
          </section>
        )}
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
            Set the tree on the later back
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
  if (refusal !== null) return 'These two can’t be compared; the reason stands beside.';
  if (state === 'working') return 'Laying the two together…';
  if (before === null || after === null)
    return 'Choose the back as it was before and as it was after. Open takes back documents, scans together with the file that they name.';
  return before.id === after.id
    ? 'Before and after are the same back: choose another for one of them.'
    : 'Nothing yet.';
}

const keys = new WeakMap<OpenedBack, string>();
let lastKey = 0;

/** The same for the same opened back, so that the worker finds it built, and never another's. */
function keyOf(back: OpenedBack): string {
  const known = keys.get(back);
  if (known !== undefined) return known;
  lastKey += 1;
  const key = `opened ${lastKey}`;
  keys.set(back, key);
  return key;
}

/** Bench, demo shelf and opened files. */
function useShelf() {
  const bench = useDocument((documents) => documents.back);
  const [opened, setOpened] = useState<readonly ListedBack[]>([]);
  const [problems, setProblems] = useState<readonly InputErrorDetails[]>([]);
  const list = useMemo<readonly ListedBack[]>(
    () => [
      { id: ON_BENCH, key: keyOf(bench), back: bench },
      ...opened,
      ...DEMO_BACKS.flatMap(({ id }) => {
        const back = demoBack(id);
        return back === null ? [] : [{ id: `demo ${id}`, key: `demo ${id}`, back }];
      }),
    ],
    [bench, opened],
  );
  const open = async (files: readonly File[]): Promise<void> => {
    const read = await readBacks(files);
    setProblems(read.refused);
    setOpened((now) => [
      ...now,
      ...read.backs.map(({ fileName, back }, i) => ({
        id: `file ${now.length + i} ${fileName}`,
        key: keyOf(back),
        back,
      })),
    ]);
  };
  return { list, problems, open };
}

const dayOf = ({ json }: ListedBack['back']): string =>
  String((json as { measured?: { on?: unknown } }).measured?.on ?? '').slice(0, 10);

function BackSelect({
  label,
  value,
  list,
  onChange,
}: {
  label: string;
  value: string;
  list: readonly ListedBack[];
  onChange: (id: string) => void;
}) {
  return (
    <label className="desk-field">
      {label}
      <select value={value} onChange={(event) => onChange(event.currentTarget.value)}>
        <option value="">choose</option>
        {list.map(({ id, back }) => (
          <option key={id} value={id}>
            {id === ON_BENCH ? 'On the bench: ' : id.startsWith('demo') ? 'Demo: ' : ''}
            {back.name}, {dayOf(back)}
          </option>
        ))}
      </select>
    </label>
  );
}

/** How the two are laid together, and the fixed ends of the colours. */
function HowLaid({ choice, onChange }: { choice: Choice; onChange: (next: Partial<Choice>) => void }) {
  const { align, leaveOut, endsMm } = choice;
  return (
    <fieldset className="two-backs-laid">
      <legend>How they are laid together</legend>
      <div className="switch">
        {(['best fit', 'landmarks'] as const).map((way) => (
          <button key={way} type="button" aria-pressed={align === way} onClick={() => onChange({ align: way })}>
            {way === 'best fit' ? 'Where they agree best' : 'By their landmarks'}
          </button>
        ))}
      </div>
      <fieldset className="two-backs-sixths">
        <legend className="small">
          Left out of the fit, because it is known to have changed or is not to be trusted
        </legend>
        {SIXTHS.map((sixth) => (
          <label key={sixth}>
            <input
              type="checkbox"
              checked={leaveOut.includes(sixth)}
              onChange={(event) =>
                onChange({
                  leaveOut: event.currentTarget.checked
                    ? [...leaveOut, sixth]
                    : leaveOut.filter((other) => other !== sixth),
                })
              }
            />
            {sixth}
          </label>
        ))}
      </fieldset>
      <label>
        Ends of the colours{' '}
        <select value={endsMm} onChange={(event) => onChange({ endsMm: Number(event.currentTarget.value) })}>
          {ENDS_MM.map((mm) => (
            <option key={mm} value={mm}>
              ±{mm} mm
            </option>
          ))}
        </select>
      </label>
    </fieldset>
  );
}
