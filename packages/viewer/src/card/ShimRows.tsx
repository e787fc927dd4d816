import type { Setup } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';
import { ListOf, SwitchRow, TextRow } from './list-rows.tsx';
import { type BarPlan, fixedToOther } from './plan-of.ts';
import { ShimPlan } from './ShimPlan.tsx';
import { type NumberRow, type SetupPane, ValueRow } from './setup-rows.tsx';

const T = TEXTS.shims;

type Shim = Setup['shims'][number];

/** As the schema has it: more would be a layer. */
const MOST = 12;

/** Pieces under a bar or on the horse: what each is fixed to, its side, where it lies, how thick. */
export function ShimRows({ plan, ...pane }: SetupPane & { plan: BarPlan | null }) {
  const { shims, setPositionMm } = pane.setup;
  return (
    <>
      <p className="small soft">{T.help}</p>
      {plan !== null && shims.length > 0 && <ShimPlan plan={plan} shims={shims} setPositionMm={setPositionMm} />}
      <ListOf
        items={shims}
        path="shims"
        what={T.one}
        most={MOST}
        make={() => newShim(plan?.lengthMm ?? 560, shims.length)}
        onSetup={pane.onSetup}
      >
        {(shim, i) => <ShimFields shim={shim} path={`shims.${i}`} {...pane} />}
      </ListOf>
    </>
  );
}

/** A thin piece under the waist of either bar, to be moved from there. */
function newShim(lengthMm: number, before: number): Shim {
  const fromMm = Math.round(lengthMm / 2) - 70;
  return {
    ...{
      name: before === 0 ? T.one : `${T.one} ${before + 1}`,
      fixedTo: 'bar',
      side: 'both',
      fromMm,
      toMm: fromMm + 140,
    },
    ...{ innerMm: 60, outerMm: 140, thicknessMm: 4, rampMm: 20 },
  };
}

function ShimFields({ shim, path, ...pane }: SetupPane & { shim: Shim; path: string }) {
  const { onSetup, setup } = pane;
  const named = (field: string): string => `${shim.name}, ${field}`;
  const row = (key: keyof typeof T.fields, min: number, max: number): NumberRow => ({
    ...{ path: `${path}.${key}`, label: named(T.fields[key]), kind: 'length', min, max },
    help: T.fieldHelp[key],
  });
  return (
    <>
      <TextRow setup={setup} onSetup={onSetup} path={`${path}.name`} label={named(T.name)} />
      <SwitchRow
        label={named(T.fixedTo)}
        value={shim.fixedTo}
        options={T.fixedToNames}
        onChoose={(to) => onSetup(path, fixedToOther(shim, to, setup.setPositionMm))}
      >
        {T.fixedToHelp[shim.fixedTo]}
      </SwitchRow>
      <SwitchRow
        label={named(T.side)}
        value={shim.side}
        options={T.sides}
        onChoose={(side) => onSetup(`${path}.side`, side)}
      />
      <ValueRow {...pane} row={row('thicknessMm', 0.1, 40)} />
      <ValueRow {...pane} row={row('fromMm', -400, 1500)} />
      <ValueRow {...pane} row={row('toMm', -400, 1500)} />
      <ValueRow {...pane} row={row('innerMm', 0, 500)} />
      <ValueRow {...pane} row={row('outerMm', 0, 500)} />
      <ValueRow {...pane} row={row('rampMm', 2, 200)} />
    </>
  );
}
