import { openDesk } from '../desk/desk-store.ts';
import { DEMO_BACKS, DEMO_PATTERNS, demoBack } from '../files/demos.ts';
import { openFiles } from '../files/open-files.ts';
import { showPanel } from '../habits/habits-store.ts';
import { LessonPicker } from '../lesson/LessonPicker.tsx';
import { FilesButton } from '../look/FilesButton.tsx';
import { TEXTS } from '../look/texts.ts';
import {
  openBack,
  openPattern,
  redo,
  setUnits,
  setView,
  undo,
  useCanRedo,
  useCanUndo,
  useDocument,
  useView,
} from '../state/index.ts';

const T = TEXTS.page;

export function Header() {
  return (
    <header className="head">
      <h1 className="head-name">{T.name}</h1>
      <PatternPicker />
      <BackPicker />
      <NewBackPicker />
      <LessonPicker />
      <FileButtons />
      <HistoryButtons />
      <UnitsSwitch />
      <ThemeButton />
      <ProjectorButton />
      <HabitButtons />
    </header>
  );
}

/** What is open by its own name, and the shelf of demo patterns under it. */
function PatternPicker() {
  const name = useDocument((documents) => documents.pattern.name);
  return (
    <label className="head-pick">
      <span>{T.pattern}</span>
      <select
        value=""
        aria-label={T.pattern}
        onChange={(event) => openPattern(DEMO_PATTERNS.find((demo) => demo.id === event.currentTarget.value)?.json)}
      >
        <option value="" disabled hidden>
          {name}
        </option>
        {DEMO_PATTERNS.map((demo) => (
          <option key={demo.id} value={demo.id}>
            {demo.says}
          </option>
        ))}
      </select>
    </label>
  );
}

function BackPicker() {
  const name = useDocument((documents) => documents.back.name);
  return (
    <label className="head-pick">
      <span>{T.horse}</span>
      <select
        value=""
        aria-label={T.horse}
        onChange={(event) => {
          const back = demoBack(event.currentTarget.value);
          if (back !== null) openBack(back);
        }}
      >
        <option value="" disabled hidden>
          {name}
        </option>
        {DEMO_BACKS.map((demo) => (
          <option key={demo.id} value={demo.id}>
            {demo.says}
          </option>
        ))}
      </select>
    </label>
  );
}

/** The ways in for a horse of one's own; scans, tracings and photos also come by dropping them anywhere. */
const WAYS_IN = T.waysIn;

function NewBackPicker() {
  return (
    <label className="head-pick head-measure">
      <span className="visually-hidden">{T.measure}</span>
      <select
        value=""
        aria-label={T.measure}
        onChange={(event) => openWay(event.currentTarget.value as keyof typeof WAYS_IN)}
      >
        <option value="" disabled hidden>
          {T.measure}
        </option>
        {Object.entries(WAYS_IN).map(([way, says]) => (
          <option key={way} value={way}>
            {says}
          </option>
        ))}
      </select>
    </label>
  );
}

const openWay = (way: keyof typeof WAYS_IN): void =>
  openDesk(way === 'photo' ? { kind: way, images: [] } : { kind: way });

function FileButtons() {
  return (
    <div className="head-group head-files">
      <FilesButton
        says={T.open}
        label={T.filesToOpen}
        accept=".json,.ply,.obj,.stl,.glb,.3mf,.xyz,.pts,.asc,.txt,.csv,.svg,.jpg,.jpeg,.png,.webp"
        onFiles={(files) => void openFiles(files)}
      />
      <button type="button" onClick={() => showPanel('save')}>
        {TEXTS.saving.open}
      </button>
    </div>
  );
}

function HistoryButtons() {
  const canUndo = useCanUndo();
  const canRedo = useCanRedo();
  return (
    <div className="head-group head-history">
      <button type="button" disabled={!canUndo} onClick={undo}>
        {T.undo}
      </button>
      <button type="button" disabled={!canRedo} onClick={redo}>
        {T.redo}
      </button>
    </div>
  );
}

const METRIC = { length: 'mm', pressure: 'kPa', mass: 'kg' } as const;
const SHOP = { length: 'in', pressure: 'psi', mass: 'lb' } as const;

function UnitsSwitch() {
  const length = useView((view) => view.units.length);
  return (
    <fieldset className="switch head-units">
      <legend className="visually-hidden">{T.units}</legend>
      <button type="button" aria-pressed={length === 'mm'} onClick={() => setUnits(METRIC)}>
        {T.metric}
      </button>
      <button type="button" aria-pressed={length === 'in'} onClick={() => setUnits(SHOP)}>
        {T.shop}
      </button>
    </fieldset>
  );
}

function ProjectorButton() {
  const projector = useView((view) => view.projector);
  return (
    <button
      type="button"
      aria-pressed={projector}
      title={TEXTS.projector.help}
      onClick={() => setView({ projector: !projector })}
    >
      {TEXTS.projector.on}
    </button>
  );
}

function ThemeButton() {
  const theme = useView((view) => view.theme);
  return (
    <button type="button" onClick={() => setView({ theme: theme === 'dark' ? 'light' : 'dark' })}>
      {theme === 'dark' ? T.light : T.dark}
    </button>
  );
}

function HabitButtons() {
  return (
    <div className="head-group head-habits">
      <button type="button" onClick={() => showPanel('kept')}>
        {T.kept}
      </button>
      <button type="button" onClick={() => showPanel('keys')}>
        {T.keys}
      </button>
    </div>
  );
}
