import { type Setup, SOLID_MATERIALS } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';
import { ChoiceRow, type NumberRow, OptionalRow, type SetupPane, ValueRow } from './setup-rows.tsx';

const T = TEXTS.setup;

const WARMTH: readonly NumberRow[] = [
  { path: 'warmth.ambientC', label: T.ambient, kind: 'plain', min: -40, max: 60, unit: '°C', help: T.ambientHelp },
  { path: 'warmth.minutes', label: T.minutes, kind: 'plain', min: 0, max: 240, unit: 'min', help: T.minutesHelp },
  { path: 'flex.hours', label: T.hours, kind: 'plain', min: 0, max: 10_000, unit: 'h', help: T.hoursHelp },
];

const ASSUMED: readonly NumberRow[] = [
  { path: 'warmth.backC', label: T.backC, kind: 'plain', min: 0, max: 45, unit: '°C' },
  { path: 'warmth.barShare', label: T.barShare, kind: 'plain', min: 0, max: 1, step: 0.05 },
  { path: 'warmth.barMinutes', label: T.barMinutes, kind: 'plain', min: 1, max: 240, unit: 'min' },
  { path: 'warmth.layerShare', label: T.layerShare, kind: 'plain', min: 0, max: 1, step: 0.05 },
  { path: 'warmth.layerMinutes', label: T.layerMinutes, kind: 'plain', min: 1, max: 240, unit: 'min' },
];

/** Whether the bars bend, what ties them, how warm and how long under load, and what is assumed for it. */
export function GiveRows({ solids, ...pane }: SetupPane & { solids: Readonly<Record<string, string>> }) {
  const { flex } = pane.setup;
  return (
    <div className="field-list">
      <BarsSwitch bars={flex.bars} onBars={(bars) => pane.onSetup('flex.bars', bars)} />
      <ChoiceRow
        label={T.groundSeat}
        value={flex.groundSeat}
        options={Object.entries(T.groundSeats)}
        onChoose={(kind) => pane.onSetup('flex.groundSeat', kind)}
      >
        {T.groundSeatHelp}
      </ChoiceRow>
      <OptionalRow
        path="flex.groundSeatNPerMm2"
        label={T.groundSeatOwn}
        value={flex.groundSeatNPerMm2}
        none={T.ofItsKind}
        unit="N/mm²"
        typedIn=""
        onSetup={pane.onSetup}
      />
      {WARMTH.map((row) => (
        <ValueRow key={row.path} row={row} {...pane} />
      ))}
      <details className="card-more">
        <summary>{T.assumed}</summary>
        <p className="small soft">{T.assumedHelp}</p>
        {ASSUMED.map((row) => (
          <ValueRow key={row.path} row={row} {...pane} />
        ))}
        {namesOf(solids).map((name) => (
          <SolidStiffness key={name} name={name} {...pane} />
        ))}
      </details>
    </div>
  );
}

const namesOf = (solids: Readonly<Record<string, string>>): string[] => [...new Set(Object.values(solids))];

/** The one switch: everything else of this group waits for it. */
function BarsSwitch({ bars, onBars }: { bars: Setup['flex']['bars']; onBars: (bars: Setup['flex']['bars']) => void }) {
  return (
    <div className="typed-field">
      <span className="typed-label" id="setup-bars">
        {T.bars}
      </span>
      <fieldset className="switch" aria-labelledby="setup-bars">
        {(['rigid', 'flexible'] as const).map((kind) => (
          <button key={kind} type="button" aria-pressed={bars === kind} onClick={() => onBars(kind)}>
            {T.barsNames[kind]}
          </button>
        ))}
      </fieldset>
      <p className="small soft wide">{T.barsHelp[bars]}</p>
    </div>
  );
}

/** The modulus along the bar of one material of the pattern, with its span and source. */
function SolidStiffness({ name, ...pane }: SetupPane & { name: string }) {
  const found = SOLID_MATERIALS.find((material) => material.name === name);
  if (found === undefined) return null;
  const [low, high] = found.rangeMPa;
  const isOwn = pane.setup.materials[name]?.alongMPa !== undefined;
  return (
    <>
      <ValueRow
        {...pane}
        row={{
          path: `materials.${name}.alongMPa`,
          label: `${name}, ${T.along}`,
          kind: 'plain',
          min: low,
          max: high,
          unit: 'MPa',
          step: 10,
          instead: found.alongMPa,
        }}
      />
      <p className="small soft">
        {T.span(low, high)}. {isOwn ? T.ownStiffness : `${found.source}.`}
      </p>
    </>
  );
}
