import { checkMaterialChanges, type LayerStack, layerTemperatureC, stackLayers } from '../layers/index.ts';
import type { Setup } from './setup-schema.ts';

/** The setup's layers as one law, as warm and as long under load as it says. Throws InputError for an unknown material. */
export function stackOf({ layers, warmth, flex, materials }: Setup): LayerStack {
  checkMaterialChanges(materials);
  return stackLayers(layers, { temperatureC: layerTemperatureC(warmth), hours: flex.hours, materials });
}
