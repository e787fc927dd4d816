export { type CurveLayer, type Layer, type LinearLayer, layerWords, type MaterialLayer } from './layer.ts';
export { type LayerStack, squeezeByLayer, stackLayers } from './layer-stack.ts';
