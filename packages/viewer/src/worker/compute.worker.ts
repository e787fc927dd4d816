import { expose } from 'comlink';
import { loadDecoders } from '../files/load-decoders.ts';
import { type Answering, answer } from './answering.ts';
import { createEngine } from './engine.ts';
import type { ComputeService, Inputs } from './inputs.ts';

/** Beside the answers, which carry a number of their own. */
const engine = createEngine((progress) => postMessage({ progress }));

/** A packed scan needs its decoders before the engine reads it, which it does at one go. */
async function ready(inputs: Inputs): Promise<Inputs> {
  const scan = inputs.back?.mesh;
  return scan === undefined || scan === null ? inputs : { ...inputs, decoders: await loadDecoders(scan.bytes) };
}

const service: Answering<ComputeService> = {
  bars: answer(async (inputs) => engine.bars(await ready(inputs))),
  figures: answer(async (inputs) => engine.figures(await ready(inputs))),
  full: answer(async (inputs) => engine.full(await ready(inputs))),
  back: answer(async (inputs) => engine.back(await ready(inputs))),
  cut: answer(engine.cut),
};

expose(service);
