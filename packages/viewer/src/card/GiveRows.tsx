import { TEXTS } from '../look/texts.ts';
import { SwitchRow } from './list-rows.tsx';
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
export function GiveRows(pane: SetupPane) {
  const { flex } = pane.setup;
  return (
    <div className="field-list">
      <SwitchRow
        label={T.bars}
        value={flex.bars}
        options={T.barsNames}
        onChoose={(bars) => pane.onSetup('flex.bars', bars)}
      >
        {T.barsHelp[flex.bars]}
      </SwitchRow>
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
      </details>
    </div>
  );
}
