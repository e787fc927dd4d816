export { type Layer, type LayerStack, squeezeByLayer, stackLayers } from './layer-stack.ts';
