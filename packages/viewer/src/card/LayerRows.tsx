import { layerWords, type Setup, SOFT_MATERIALS } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';
import { ListOf, TextRow } from './list-rows.tsx';
import { PointsRow } from './PointsRow.tsx';
import { ChoiceRow, type NumberRow, type SetupPane, ValueRow } from './setup-rows.tsx';

const T = TEXTS.setup;
const L = TEXTS.layers;

type SetupLayer = Setup['layers'][number];

const STIFFNESS = ':stiffness';
const CURVE = ':curve';
/** Stands first when a layer is given one stiffness in place of a material. */
const USUAL_KPA_PER_MM = 2.5;

const newLayer = (): SetupLayer => ({ name: L.one, thicknessMm: 10, stiffnessKPaPerMm: USUAL_KPA_PER_MM });

/** The layers from the horse outward: each one's name and thickness, and what it gives by. */
export function LayerRows(pane: SetupPane) {
  return (
    <ListOf
      items={pane.setup.layers}
      path="layers"
      what={L.one}
      least={1}
      most={12}
      make={newLayer}
      onSetup={pane.onSetup}
    >
      {(layer, i) => (
        <>
          <TextRow {...pane} path={`layers.${i}.name`} label={`${layer.name}, ${L.name}`} />
          <ValueRow {...pane} row={thicknessRow(layer, i)} />
          <LayerGives {...pane} layer={layer} place={i} />
          {'stiffnessKPaPerMm' in layer && <ValueRow {...pane} row={stiffnessRow(layer, i)} />}
          {'curve' in layer && (
            <PointsRow
              path={`layers.${i}.curve`}
              label={`${layer.name}, ${L.curve}`}
              points={layer.curve}
              help={L.curveHelp}
              onSetup={pane.onSetup}
            />
          )}
        </>
      )}
    </ListOf>
  );
}

const thicknessRow = ({ name }: SetupLayer, place: number): NumberRow => ({
  ...{ path: `layers.${place}.thicknessMm`, label: `${name}, ${T.thickness}`, kind: 'length', min: 0, max: 100 },
});

const stiffnessRow = ({ name }: SetupLayer, place: number): NumberRow => ({
  ...{ path: `layers.${place}.stiffnessKPaPerMm`, label: `${name}, ${T.stiffness}`, kind: 'plain' },
  ...{ min: 0.1, max: 50, unit: 'kPa/mm' },
});

/** One stiffness, or a soft material of the table, or a curve of its own that starts as the usual stiffness. */
function LayerGives({ onSetup, layer, place }: SetupPane & { layer: SetupLayer; place: number }) {
  const chosen = 'material' in layer ? layer.material : 'curve' in layer ? CURVE : STIFFNESS;
  const choose = (value: string): void => {
    if (value === STIFFNESS) onSetup(`layers.${place}.stiffnessKPaPerMm`, USUAL_KPA_PER_MM);
    else if (value === CURVE) onSetup(`layers.${place}.curve`, usualCurve(layer.thicknessMm));
    else onSetup(`layers.${place}.material`, value);
  };
  // A material needs a thickness to be squeezed; a stiffness does not.
  const materials = layer.thicknessMm > 0 ? SOFT_MATERIALS : [];
  return (
    <ChoiceRow
      label={`${layer.name}, ${T.gives}`}
      value={chosen}
      options={[
        [STIFFNESS, T.oneStiffness],
        ...(layer.thicknessMm > 0 ? [[CURVE, L.ownCurve] as const] : []),
        ...materials.map(({ name }) => [name, name] as const),
      ]}
      onChoose={choose}
    >
      {chosen === STIFFNESS ? undefined : sourceOf(layer)}
    </ChoiceRow>
  );
}

const usualCurve = (thicknessMm: number): [number, number][] =>
  [25, 50].map((percent) => [percent, Number(((percent / 100) * thicknessMm * USUAL_KPA_PER_MM).toPrecision(4))]);

/** Where a material's numbers come from; a curve in words. */
function sourceOf(layer: SetupLayer): string {
  if (!('material' in layer)) return layerWords(layer);
  const found = SOFT_MATERIALS.find(({ name }) => name === layer.material);
  return found === undefined ? layerWords(layer) : `${found.source}. ${T.withWarmth}: ${found.temperatureSource}.`;
}
