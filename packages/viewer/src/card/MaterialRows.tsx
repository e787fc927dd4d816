import { type MaterialUsed, type Setup, SOFT_MATERIALS, SOLID_MATERIALS } from '@barwright/geometry';
import { useMemo } from 'react';
import { TEXTS } from '../look/texts.ts';
import { Soft, Solid } from './MaterialNumbers.tsx';
import type { SetupPane } from './setup-rows.tsx';
import { usedHere } from './used-here.ts';

const T = TEXTS.materials;

/** Every material of the table: those in use first, each with its value, span and source, and one's own numbers. */
export function MaterialRows({ solids, ...pane }: SetupPane & { solids: Readonly<Record<string, string>> }) {
  const { setup } = pane;
  const named = usedNames(setup, solids);
  const used = useMemo(() => usedHere(setup, solids), [setup, solids]);
  const isUsed = ({ name }: { name: string }): boolean => named.has(name);
  const isOther = (one: { name: string }): boolean => !isUsed(one);
  const list = (pick: (one: { name: string }) => boolean) => (
    <>
      {SOLID_MATERIALS.filter(pick).map((material) => (
        <Solid key={material.name} material={material} {...pane}>
          {named.has(material.name) && <UsedLine used={used.get(material.name)} />}
        </Solid>
      ))}
      {SOFT_MATERIALS.filter(pick).map((material) => (
        <Soft key={material.name} material={material} {...pane}>
          {named.has(material.name) && <UsedLine used={used.get(material.name)} />}
        </Soft>
      ))}
    </>
  );
  return (
    <div className="field-list materials">
      <p className="small soft">{T.help}</p>
      {list(isUsed)}
      <details className="card-more">
        <summary>{T.others}</summary>
        {list(isOther)}
      </details>
    </div>
  );
}

/** What pattern and layers are made of now. */
function usedNames(setup: Setup, solids: Readonly<Record<string, string>>): ReadonlySet<string> {
  const layers = setup.layers.flatMap((layer) => ('material' in layer ? [layer.material] : []));
  return new Set([...Object.values(solids), ...layers]);
}

/** The number that the result rests on, after warmth and time. */
function UsedLine({ used }: { used: MaterialUsed | undefined }) {
  if (used === undefined) return <p className="small">{T.notUsed}</p>;
  const { value, unit, warmth, time } = used;
  const number = String(Number(value.toPrecision(3)));
  return (
    <p className="small">
      {T.used(number, unit, warmth?.temperatureC.toFixed(0) ?? '23', time?.hours ?? 0)}
      {used.beyondTable && ` ${T.beyond}`}
    </p>
  );
}
