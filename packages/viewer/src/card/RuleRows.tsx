import { TEXTS } from '../look/texts.ts';
import { TextRow } from './list-rows.tsx';
import { ChoiceRow, type NumberRow, type SetupPane, ValueRow } from './setup-rows.tsx';

const T = TEXTS.rules;
const KPA = { unit: 'kPa', typedIn: 'kPa' } as const;

type Rule = keyof typeof T.names;

const rule = (
  key: Rule,
  kind: NumberRow['kind'],
  min: number,
  max: number,
  more: Partial<NumberRow> = {},
): NumberRow => ({
  ...{ path: `rules.${key}`, label: T.names[key], kind, min, max, help: T.helps[key] },
  ...more,
});

/** Every number that a finding is compared with, in the order of the findings. */
const RULES: readonly NumberRow[] = [
  rule('lengthwiseMm', 'length', 0.1, 50),
  rule('slopeDeg', 'angle', 0.1, 45),
  rule('edgeSharePercent', 'percent', 34, 100),
  rule('pressurePointTimesMean', 'plain', 1, 20, { unit: '×', step: 0.1 }),
  rule('pastRibMm', 'length', 0, 200),
  rule('pastRibKPa', 'plain', 0, 50, { ...KPA, step: 0.1 }),
  rule('tipSqueezeMm', 'length', 0.1, 50),
  rule('spineForkMm', 'length', 1, 200),
  rule('spineAlongMm', 'length', 1, 200),
  rule('spineChannelMm', 'length', 1, 200),
  rule('overFlexMm', 'length', 0.1, 50),
  rule('offDataPercent', 'percent', 0.1, 100),
  rule('solidSharePercent', 'percent', 1, 100),
  rule('padMm', 'length', 1, 100),
  rule('frontBearingFromMm', 'length', -100, 200),
  rule('frontBearingToMm', 'length', -100, 300),
  rule('setPositionBandMm', 'length', 1, 200),
];

/** What findings compare with, and who set it so: a shop edits and signs. */
export function RuleRows(pane: SetupPane) {
  return (
    <div className="field-list">
      <p className="small soft">{T.help}</p>
      <TextRow {...pane} path="rules.setBy" label={T.setBy} help={T.setByHelp} />
      <TextRow {...pane} path="rules.setOn" label={T.setOn} none={T.setOnNone} help={T.setOnHelp} />
      {RULES.map((row) => (
        <ValueRow key={row.path} {...pane} row={row} />
      ))}
    </div>
  );
}

const CELLS: readonly NumberRow[] = [
  { path: 'samples', label: T.samples, kind: 'plain', min: 200, max: 200_000, step: 1000, help: T.samplesHelp },
  {
    ...{ path: 'averagingCellCm2', label: T.averaging, kind: 'plain', min: 0.5, max: 50 },
    ...{ unit: 'cm²', step: 0.5, help: T.averagingHelp },
  },
];

/** How finely and by which path it is solved. */
export function SolvingRows(pane: SetupPane) {
  return (
    <div className="field-list">
      {CELLS.map((row) => (
        <ValueRow key={row.path} {...pane} row={row} />
      ))}
      <ChoiceRow
        label={T.path}
        value={pane.setup.path}
        options={Object.entries(T.paths)}
        onChoose={(path) => pane.onSetup('path', path)}
      >
        {T.pathHelp}
      </ChoiceRow>
    </div>
  );
}
