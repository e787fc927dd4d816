import { type Setup, type SoftMaterial, type SolidMaterial, softAt25KPa } from '@barwright/geometry';
import type { ReactNode } from 'react';
import { TEXTS } from '../look/texts.ts';
import { TextRow } from './list-rows.tsx';
import { PointsRow } from './PointsRow.tsx';
import { type NumberRow, OptionalRow, type SetupPane, ValueRow } from './setup-rows.tsx';

const T = TEXTS.materials;

type Own = Setup['materials'][string];

/** A solid material: moduli, strain limit, and what warmth and time do to it. `children` stand under its span. */
export function Solid({ material, children, ...pane }: SetupPane & { material: SolidMaterial; children: ReactNode }) {
  const { name, rangeMPa } = material;
  const own = pane.setup.materials[name] ?? {};
  const path = `materials.${name}`;
  // Left out, the moduli across and in shear go with the one along.
  const share = (own.alongMPa ?? material.alongMPa) / material.alongMPa;
  const modulus = (
    key: 'alongMPa' | 'acrossMPa' | 'shearMPa',
    instead: number,
    min: number,
    max: number,
  ): NumberRow => ({
    ...{ path: `${path}.${key}`, label: `${name}, ${T.fields[key]}`, kind: 'plain', min, max },
    ...{ unit: 'MPa', step: 10, instead: Number(instead.toPrecision(6)) },
  });
  const isMoved = ['alongMPa', 'acrossMPa', 'shearMPa', 'poisson'].some((key) => own[key as keyof Own] !== undefined);
  return (
    <Material name={name} own={own} {...pane}>
      <ValueRow {...pane} row={modulus('alongMPa', material.alongMPa, ...rangeMPa)} />
      <SpanLine words={T.span(rangeMPa[0], rangeMPa[1], 'MPa')} own={isMoved ? own : null} source={material.source} />
      {children}
      <details className="card-more">
        <summary>{T.rest(name)}</summary>
        <ValueRow {...pane} row={modulus('acrossMPa', share * material.acrossMPa, 10, 20_000)} />
        <ValueRow {...pane} row={modulus('shearMPa', share * material.shearMPa, 10, 10_000)} />
        <ValueRow
          {...pane}
          row={{
            ...{ path: `${path}.poisson`, label: `${name}, ${T.fields.poisson}`, kind: 'plain', min: 0, max: 0.499 },
            ...{ step: 0.01, instead: material.poisson },
          }}
        />
        <OptionalRow
          path={`${path}.strainLimitPercent`}
          label={`${name}, ${T.fields.strainLimitPercent}`}
          value={own.strainLimitPercent === undefined ? material.strainLimitPercent : own.strainLimitPercent}
          none={T.noLimit}
          unit="%"
          typedIn="%"
          onSetup={pane.onSetup}
        />
        <Curve {...pane} name={name} field="temperature" own={own.temperature} table={material.temperature} />
        <p className="small soft">{material.temperatureSource}.</p>
        <Curve {...pane} name={name} field="creep" own={own.creep} table={material.creep} />
        <p className="small soft">{material.creepSource}.</p>
        <SourceRow {...pane} name={name} own={own} />
      </details>
    </Material>
  );
}

/** A soft material: its pressure at 25 % or a curve, and what warmth and time do to it. */
export function Soft({ material, children, ...pane }: SetupPane & { material: SoftMaterial; children: ReactNode }) {
  const { name, rangeAt25KPa, law } = material;
  const own = pane.setup.materials[name] ?? {};
  const table = softAt25KPa(law);
  return (
    <Material name={name} own={own} {...pane}>
      {own.curve === undefined ? (
        <ValueRow
          {...pane}
          row={{
            ...{ path: `materials.${name}.at25KPa`, label: `${name}, ${T.fields.at25KPa}`, kind: 'plain' },
            ...{ min: rangeAt25KPa[0], max: rangeAt25KPa[1], unit: 'kPa', typedIn: 'kPa', step: 0.5 },
            instead: Number(table.toPrecision(3)),
          }}
        />
      ) : (
        <p className="small">{T.ownCurve}</p>
      )}
      <SpanLine
        words={T.span(rangeAt25KPa[0], rangeAt25KPa[1], 'kPa')}
        own={own.at25KPa === undefined && own.curve === undefined ? null : own}
        source={material.source}
      />
      {children}
      <details className="card-more">
        <summary>{T.rest(name)}</summary>
        <Curve {...pane} name={name} field="curve" own={own.curve} table={law.kind === 'curve' ? law.curve : []} />
        <Curve {...pane} name={name} field="temperature" own={own.temperature} table={material.temperature} />
        <p className="small soft">{material.temperatureSource}.</p>
        <Curve {...pane} name={name} field="set" own={own.set} table={material.set} />
        <p className="small soft">{material.setSource}.</p>
        <SourceRow {...pane} name={name} own={own} />
      </details>
    </Material>
  );
}

/** A material under its name, with the way back to the table where it has numbers of one's own. */
function Material({
  name,
  own,
  setup,
  onSetup,
  children,
}: SetupPane & { name: string; own: Own; children: ReactNode }) {
  const others = Object.fromEntries(Object.entries(setup.materials).filter(([key]) => key !== name));
  return (
    <section className="material" aria-label={name}>
      <div className="list-head">
        <h3>{name}</h3>
        {Object.keys(own).length > 0 && (
          <button type="button" aria-label={T.backNamed(name)} onClick={() => onSetup('materials', others)}>
            {T.back}
          </button>
        )}
      </div>
      {children}
    </section>
  );
}

function SpanLine({ words, own, source }: { words: string; own: Own | null; source: string }) {
  return (
    <p className="small soft">
      {words} {own === null ? `${source}.` : T.yours(own.source ?? T.noSource)}
    </p>
  );
}

function Curve({
  name,
  field,
  own,
  table,
  onSetup,
}: SetupPane & {
  name: string;
  field: 'temperature' | 'creep' | 'curve' | 'set';
  own: Own['curve'];
  table: readonly (readonly [number, number])[];
}) {
  return (
    <PointsRow
      path={`materials.${name}.${field}`}
      label={`${name}, ${T.fields[field]}`}
      points={own}
      instead={table}
      help={T.pointsHelp[field]}
      onSetup={onSetup}
    />
  );
}

/** Once a number is one's own, where it comes from is printed with every result. */
function SourceRow({ name, own, ...pane }: SetupPane & { name: string; own: Own }) {
  if (Object.keys(own).length === 0) return null;
  return (
    <TextRow
      {...pane}
      path={`materials.${name}.source`}
      label={`${name}, ${T.fields.source}`}
      empty={T.noSource}
      help={T.sourceHelp}
    />
  );
}
