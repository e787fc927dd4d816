import { layerWords, type Setup, SOFT_MATERIALS } from '@barwright/geometry';
import { TEXTS } from '../look/texts.ts';
import { ChoiceRow, type SetupPane, ValueRow } from './setup-rows.tsx';

const T = TEXTS.setup;

type SetupLayer = Setup['layers'][number];

const STIFFNESS = ':stiffness';
const CURVE = ':curve';
/** Stands first when a layer is given one stiffness in place of a material. */
const USUAL_KPA_PER_MM = 2.5;

/** Each layer's thickness, and what it gives by. */
export function LayerRows(pane: SetupPane) {
  return (
    <div className="field-list">
      {pane.setup.layers.map((layer, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a layer is its place in the stack
        <div key={i} className="layer">
          <h3>{layer.name}</h3>
          <ValueRow
            {...pane}
            row={{
              path: `layers.${i}.thicknessMm`,
              label: `${layer.name}, ${T.thickness}`,
              kind: 'length',
              min: 0,
              max: 100,
            }}
          />
          <LayerGives {...pane} layer={layer} place={i} />
          {'stiffnessKPaPerMm' in layer && (
            <ValueRow
              {...pane}
              row={{
                path: `layers.${i}.stiffnessKPaPerMm`,
                label: `${layer.name}, ${T.stiffness}`,
                kind: 'plain',
                min: 0.1,
                max: 50,
                unit: 'kPa/mm',
              }}
            />
          )}
        </div>
      ))}
    </div>
  );
}

/** One stiffness, or a soft material of the table; a curve of the file's own stays until something else is chosen. */
function LayerGives({ onSetup, layer, place }: SetupPane & { layer: SetupLayer; place: number }) {
  const chosen = 'material' in layer ? layer.material : 'curve' in layer ? CURVE : STIFFNESS;
  const choose = (value: string): void => {
    if (value === STIFFNESS) onSetup(`layers.${place}.stiffnessKPaPerMm`, USUAL_KPA_PER_MM);
    else if (value !== CURVE) onSetup(`layers.${place}.material`, value);
  };
  // A material needs a thickness to be squeezed; a stiffness does not.
  const materials = layer.thicknessMm > 0 ? SOFT_MATERIALS : [];
  return (
    <ChoiceRow
      label={`${layer.name}, ${T.gives}`}
      value={chosen}
      options={[
        [STIFFNESS, T.oneStiffness],
        ...(chosen === CURVE ? [[CURVE, T.ownCurve] as const] : []),
        ...materials.map(({ name }) => [name, name] as const),
      ]}
      onChoose={choose}
    >
      {chosen === STIFFNESS ? undefined : sourceOf(layer)}
    </ChoiceRow>
  );
}

/** Where a material's numbers come from; a curve in words. */
function sourceOf(layer: SetupLayer): string {
  if (!('material' in layer)) return layerWords(layer);
  const found = SOFT_MATERIALS.find(({ name }) => name === layer.material);
  return found === undefined ? layerWords(layer) : `${found.source}. ${T.withWarmth}: ${found.temperatureSource}.`;
}
