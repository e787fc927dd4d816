import { InputError, KG_PER_POUND, layerWords, readQuantity, type Setup, SOFT_MATERIALS } from '@barwright/geometry';
import { figureText, massFigure, type Units } from '../look/format.ts';
import { TEXTS } from '../look/texts.ts';
import type { EditOutcome } from '../state/index.ts';
import { TypedField } from './TypedField.tsx';
import { defaultUnit, inputText, placeInRange, stepped, unitText, type ValueKind, valueFigure } from './value-text.ts';

const T = TEXTS.setup;

export interface SetupCardProps {
  readonly setup: Setup;
  readonly units: Units;
  readonly onSetup: (path: string, value: string | number | null) => EditOutcome;
  readonly onDragStart: () => void;
  readonly onDragEnd: () => void;
}

/** Set position, load, layers and legs: what the tree is settled with. */
export function SetupCard(props: SetupCardProps) {
  const { setup } = props;
  return (
    <section className="card setup-card" aria-label={T.title}>
      <h2>{T.title}</h2>
      <div className="field-list">
        <SetupValue
          {...props}
          path="setPositionMm"
          value={setup.setPositionMm}
          label={T.setPosition}
          kind="length"
          min={-200}
          max={200}
          help={T.setPositionHelp}
        />
        <SetupValue
          {...props}
          path="load.riderKg"
          value={setup.load.riderKg}
          label={T.rider}
          kind="mass"
          min={0}
          max={300}
        />
        <SetupValue
          {...props}
          path="load.saddleKg"
          value={setup.load.saddleKg}
          label={T.saddle}
          kind="mass"
          min={0}
          max={60}
        />
        <Gait {...props} />
        <LoadPlace {...props} />
        <SetupValue
          {...props}
          path="load.heightMm"
          value={setup.load.heightMm}
          label={T.height}
          kind="length"
          min={0}
          max={1500}
          help={T.heightHelp}
        />
        <SetupValue
          {...props}
          path="load.offsetMm"
          value={setup.load.offsetMm}
          label={T.offset}
          kind="length"
          min={-200}
          max={200}
          help={T.offsetHelp}
        />
        <Legs {...props} />
      </div>
      <details className="card-group" open>
        <summary>{T.layers}</summary>
        <Layers {...props} />
      </details>
      <details className="card-group">
        <summary>{T.limits}</summary>
        <Limits {...props} />
      </details>
    </section>
  );
}

type Pane = SetupCardProps;

function SetupValue({
  path,
  value,
  label,
  kind,
  min,
  max,
  help,
  unit,
  units,
  onSetup,
  onDragStart,
  onDragEnd,
}: Pane & {
  path: string;
  value: number;
  label: string;
  kind: ValueKind;
  min: number;
  max: number;
  help?: string;
  /** Shown behind the figure where the kind has no unit of its own. */
  unit?: string;
}) {
  const inPounds = kind === 'mass' && units.mass === 'lb';
  const shown = kind === 'mass' ? massFigure(value, units).number : inputText(value, kind, units);
  const source =
    inPounds || (kind === 'length' && units.length === 'in')
      ? `${value} ${kind === 'mass' ? 'kg' : 'mm'}`
      : String(value);
  const ends = [min, max].map((end) =>
    figureText(kind === 'mass' ? massFigure(end, units) : valueFigure(end, kind, units)),
  );
  const commit = (text: string): EditOutcome => {
    try {
      return onSetup(path, readQuantity(text, { field: label, unit: defaultUnit(kind, units) }));
    } catch (error) {
      if (error instanceof InputError) return { ok: false, error: error.details };
      throw error;
    }
  };
  const step = (steps: number, from: number): void => {
    const next = inPounds
      ? Math.min(max, Math.max(min, Math.round(from / KG_PER_POUND + steps) * KG_PER_POUND))
      : stepped(from, steps, kind, units, min, max);
    onSetup(path, next);
  };
  return (
    <TypedField
      label={label}
      shown={shown}
      source={source}
      unit={unit ?? unitText(kind, units)}
      {...(help === undefined ? {} : { help })}
      range={{ place: placeInRange(value, kind, min, max), text: TEXTS.card.range(ends[0]!, ends[1]!) }}
      value={value}
      onCommit={commit}
      onStep={step}
      onDragStart={onDragStart}
      onDragEnd={onDragEnd}
    />
  );
}

function Gait(props: Pane) {
  const { setup, onSetup } = props;
  const { factor } = setup.load;
  const known = T.gaits.some((gait) => gait.factor === factor);
  return (
    <div className="typed-field">
      <label className="typed-label" htmlFor="setup-gait">
        {T.gait}
      </label>
      <select
        id="setup-gait"
        value={String(factor)}
        onChange={(event) => onSetup('load.factor', Number(event.target.value))}
      >
        {T.gaits.map((gait) => (
          <option key={gait.label} value={String(gait.factor)}>
            {gait.label} × {gait.factor}
          </option>
        ))}
        {!known && (
          <option value={String(factor)}>
            {T.ownFactor} × {factor}
          </option>
        )}
      </select>
      <p className="small soft wide">{T.gaitSource}</p>
    </div>
  );
}

function LoadPlace(props: Pane) {
  const { at } = props.setup.load;
  return (
    <>
      <div className="typed-field">
        <label className="typed-label" htmlFor="setup-at">
          {T.at}
        </label>
        <select
          id="setup-at"
          value={at === 'seat' ? 'seat' : 'percent'}
          onChange={(event) => props.onSetup('load.at', event.target.value === 'seat' ? 'seat' : 47)}
        >
          <option value="percent">{T.atPercent}</option>
          <option value="seat">{T.atSeat}</option>
        </select>
      </div>
      {at !== 'seat' && (
        <SetupValue
          {...props}
          path="load.at"
          value={at}
          label={`${T.at}, ${T.atUnit}`}
          kind="percent"
          min={0}
          max={100}
        />
      )}
    </>
  );
}

function Legs({ setup, onSetup }: Pane) {
  return (
    <div className="typed-field">
      <label className="typed-label" htmlFor="setup-legs">
        {T.legs}
      </label>
      <select id="setup-legs" value={setup.legForward} onChange={(event) => onSetup('legForward', event.target.value)}>
        {Object.entries(T.legNames).map(([value, name]) => (
          <option key={value} value={value}>
            {name}
          </option>
        ))}
      </select>
      <p className="small soft wide">{T.legsHelp}</p>
    </div>
  );
}

function Layers(props: Pane) {
  return (
    <div className="field-list">
      {props.setup.layers.map((layer, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a layer is its place in the stack
        <div key={i} className="layer">
          <h3>{layer.name}</h3>
          <SetupValue
            {...props}
            path={`layers.${i}.thicknessMm`}
            value={layer.thicknessMm}
            label={`${layer.name}, ${T.thickness}`}
            kind="length"
            min={0}
            max={100}
          />
          <LayerGives {...props} place={i} />
          {'stiffnessKPaPerMm' in layer ? (
            <SetupValue
              {...props}
              path={`layers.${i}.stiffnessKPaPerMm`}
              value={layer.stiffnessKPaPerMm}
              label={`${layer.name}, ${T.stiffness}`}
              kind="plain"
              min={0.1}
              max={50}
              unit="kPa/mm"
            />
          ) : (
            <p className="small soft wide">{sourceOf(layer)}</p>
          )}
        </div>
      ))}
    </div>
  );
}

/** One stiffness, or a soft material of the table; a curve of the file's own stays until something else is chosen. */
function LayerGives({ setup, onSetup, place }: Pane & { place: number }) {
  const layer = setup.layers[place]!;
  const id = `layer-${place}-gives`;
  const chosen = 'material' in layer ? layer.material : 'curve' in layer ? CURVE : STIFFNESS;
  const choose = (value: string): void => {
    if (value === STIFFNESS) onSetup(`layers.${place}.stiffnessKPaPerMm`, 2.5);
    else if (value !== CURVE) onSetup(`layers.${place}.material`, value);
  };
  return (
    <div className="typed-field">
      <label className="typed-label" htmlFor={id}>
        {layer.name}, {T.gives}
      </label>
      <select id={id} value={chosen} onChange={(event) => choose(event.target.value)}>
        <option value={STIFFNESS}>{T.oneStiffness}</option>
        {chosen === CURVE && <option value={CURVE}>{T.ownCurve}</option>}
        {layer.thicknessMm > 0 &&
          SOFT_MATERIALS.map(({ name }) => (
            <option key={name} value={name}>
              {name}
            </option>
          ))}
      </select>
    </div>
  );
}

const STIFFNESS = ':stiffness';
const CURVE = ':curve';

/** Where a material's numbers come from; a curve in words. */
function sourceOf(layer: Setup['layers'][number]): string {
  if (!('material' in layer)) return layerWords(layer);
  const found = SOFT_MATERIALS.find(({ name }) => name === layer.material);
  return found === undefined ? layerWords(layer) : `${found.source}. ${T.withWarmth}: ${found.temperatureSource}.`;
}

function Limits(props: Pane) {
  const { limits } = props.setup;
  return (
    <div className="field-list">
      <SetupValue
        {...props}
        path="limits.ruleOfThumbPsi"
        value={limits.ruleOfThumbPsi}
        label={T.ruleOfThumb}
        kind="plain"
        min={0.1}
        max={20}
        unit="psi"
      />
      <SetupValue
        {...props}
        path="limits.meanKPa"
        value={limits.meanKPa}
        label={T.meanLimit}
        kind="plain"
        min={1}
        max={50}
        unit="kPa"
      />
      <SetupValue
        {...props}
        path="limits.peakKPa"
        value={limits.peakKPa}
        label={T.peakLimit}
        kind="plain"
        min={1}
        max={100}
        unit="kPa"
      />
      <P95Limit {...props} />
    </div>
  );
}

/** No published limit exists, so there is none until the user sets one. */
function P95Limit(props: Pane) {
  const { p95KPa } = props.setup.limits;
  return (
    <TypedField
      label={T.p95Limit}
      shown={p95KPa === null ? T.p95None : String(p95KPa)}
      source={p95KPa === null ? '' : String(p95KPa)}
      unit={p95KPa === null ? '' : 'kPa'}
      value={p95KPa ?? Number.NaN}
      onCommit={(text) => {
        if (text.trim().toLowerCase() === 'none') return props.onSetup('limits.p95KPa', null);
        try {
          return props.onSetup('limits.p95KPa', readQuantity(text, { field: T.p95Limit, unit: 'kPa' }));
        } catch (error) {
          if (error instanceof InputError) return { ok: false, error: error.details };
          throw error;
        }
      }}
    />
  );
}
