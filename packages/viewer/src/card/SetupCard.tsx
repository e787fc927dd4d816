import type { ReactNode } from 'react';
import { TEXTS } from '../look/texts.ts';
import { WordRow } from '../words/Word.tsx';
import { GiveRows } from './GiveRows.tsx';
import { LayerRows } from './LayerRows.tsx';
import { TextRow } from './list-rows.tsx';
import { MaterialRows } from './MaterialRows.tsx';
import { PullRows } from './PullRows.tsx';
import type { BarPlan } from './plan-of.ts';
import { RuleRows, SolvingRows } from './RuleRows.tsx';
import { ShimRows } from './ShimRows.tsx';
import { ChoiceRow, type NumberRow, OptionalRow, type SetupPane, ValueRow } from './setup-rows.tsx';

const T = TEXTS.setup;
const M = TEXTS.setupLists;

export interface SetupCardProps extends SetupPane {
  /** Solid materials of the open pattern by place: bar, lower, tip. */
  readonly solids: Readonly<Record<string, string>>;
  /** Both bars from above, to draw shims on; null before the pattern is worked out. */
  readonly plan: BarPlan | null;
}

const BEFORE_GAIT: readonly NumberRow[] = [
  {
    path: 'setPositionMm',
    label: T.setPosition,
    kind: 'length',
    min: -200,
    max: 200,
    help: T.setPositionHelp,
  },
  { path: 'shiftMm', label: M.shift, kind: 'length', min: -60, max: 60, help: M.shiftHelp },
  { path: 'yawDeg', label: M.yaw, kind: 'angle', min: -10, max: 10, help: M.yawHelp },
  { path: 'load.riderKg', label: T.rider, kind: 'mass', min: 0, max: 300 },
  { path: 'load.saddleKg', label: T.saddle, kind: 'mass', min: 0, max: 60 },
];
const LOAD_AT: NumberRow = { path: 'load.at', label: `${T.at}, ${T.atUnit}`, kind: 'percent', min: 0, max: 100 };
const AFTER_PLACE: readonly NumberRow[] = [
  { path: 'load.heightMm', label: T.height, kind: 'length', min: 0, max: 1500, help: T.heightHelp },
  { path: 'load.offsetMm', label: T.offset, kind: 'length', min: -200, max: 200, help: T.offsetHelp },
  { path: 'load.riseDeg', label: M.rise, kind: 'angle', min: -35, max: 35, help: M.riseHelp },
];
const LIMITS: readonly NumberRow[] = [
  { path: 'limits.ruleOfThumbPsi', label: T.ruleOfThumb, kind: 'plain', min: 0.1, max: 20, unit: 'psi' },
  { path: 'limits.meanKPa', label: T.meanLimit, kind: 'plain', min: 1, max: 50, unit: 'kPa' },
  { path: 'limits.peakKPa', label: T.peakLimit, kind: 'plain', min: 1, max: 100, unit: 'kPa' },
];

/** Set position, load, layers, what gives and legs: what the tree is settled with. */
export function SetupCard({ solids, plan, ...pane }: SetupCardProps) {
  return (
    <section className="card setup-card" aria-label={T.title}>
      <h2>{T.title}</h2>
      <div className="field-list">
        <TextRow {...pane} path="name" label={T.name} />
        <WordRow ids={['set position']} />
        <Rows rows={BEFORE_GAIT} {...pane} />
        <Gait {...pane} />
        <LoadPlace {...pane} />
        <Rows rows={AFTER_PLACE} {...pane} />
        <ChoiceRow
          label={T.legs}
          value={pane.setup.legForward}
          options={Object.entries(T.legNames)}
          onChoose={(legs) => pane.onSetup('legForward', legs)}
        >
          {T.legsHelp}
        </ChoiceRow>
      </div>
      <Group title={T.layers} isOpen>
        <LayerRows {...pane} />
      </Group>
      <Group title={M.counted(TEXTS.shims.title, pane.setup.shims.length)}>
        <ShimRows plan={plan} {...pane} />
      </Group>
      <Group title={T.whatGives} isOpen>
        <GiveRows {...pane} />
      </Group>
      <Group title={TEXTS.materials.title} isOpen>
        <MaterialRows solids={solids} {...pane} />
      </Group>
      <Group title={M.counted(TEXTS.pulls.title, pane.setup.load.pulls.length)}>
        <PullRows {...pane} />
      </Group>
      <Group title={T.limits}>
        <div className="field-list">
          <Rows rows={LIMITS} {...pane} />
          <OptionalRow
            path="limits.p95KPa"
            label={T.p95Limit}
            value={pane.setup.limits.p95KPa}
            none={T.p95None}
            unit="kPa"
            typedIn="kPa"
            onSetup={pane.onSetup}
          />
        </div>
      </Group>
      <Group title={TEXTS.rules.title}>
        <RuleRows {...pane} />
      </Group>
      <Group title={TEXTS.rules.solving}>
        <SolvingRows {...pane} />
      </Group>
    </section>
  );
}

function Group({ title, isOpen = false, children }: { title: string; isOpen?: boolean; children: ReactNode }) {
  return (
    <details className="card-group" open={isOpen}>
      <summary>{title}</summary>
      {children}
    </details>
  );
}

function Rows({ rows, ...pane }: SetupPane & { rows: readonly NumberRow[] }) {
  return rows.map((row) => <ValueRow key={row.path} row={row} {...pane} />);
}

function Gait({ setup, onSetup }: SetupPane) {
  const { factor } = setup.load;
  const gaits = T.gaits.map((gait) => [String(gait.factor), `${gait.label} × ${gait.factor}`] as const);
  const isKnown = gaits.some(([value]) => value === String(factor));
  return (
    <ChoiceRow
      label={T.gait}
      value={String(factor)}
      options={isKnown ? gaits : [...gaits, [String(factor), `${T.ownFactor} × ${factor}`]]}
      onChoose={(value) => onSetup('load.factor', Number(value))}
    >
      {T.gaitSource}
    </ChoiceRow>
  );
}

function LoadPlace(pane: SetupPane) {
  const isSeat = pane.setup.load.at === 'seat';
  return (
    <>
      <ChoiceRow
        label={T.at}
        value={isSeat ? 'seat' : 'percent'}
        options={[
          ['percent', T.atPercent],
          ['seat', T.atSeat],
        ]}
        onChoose={(place) => pane.onSetup('load.at', place === 'seat' ? 'seat' : 47)}
      />
      {!isSeat && <ValueRow row={LOAD_AT} {...pane} />}
    </>
  );
}
