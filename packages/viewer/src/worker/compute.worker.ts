import { expose } from 'comlink';
import { type Answering, answer } from './answering.ts';
import { createEngine } from './engine.ts';
import type { ComputeService } from './inputs.ts';

/** Beside the answers, which carry a number of their own. */
const engine = createEngine((progress) => postMessage({ progress }));

const service: Answering<ComputeService> = {
  bars: answer(engine.bars),
  figures: answer(engine.figures),
  full: answer(engine.full),
  back: answer(engine.back),
  cut: answer(engine.cut),
};

expose(service);
