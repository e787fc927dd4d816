import { type LayerStack, stackLayers } from '../layers/index.ts';
import type { Setup } from './setup-schema.ts';

/** The setup's layers as one law, as warm and as long under load as it says. Throws InputError for an unknown material. */
export function stackOf(setup: Setup): LayerStack {
  return stackLayers(setup.layers);
}
