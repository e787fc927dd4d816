import { expose } from 'comlink';
import { type Answering, answer } from './answering.ts';
import { createEngine } from './engine.ts';
import type { ComputeService } from './inputs.ts';

const engine = createEngine();

const service: Answering<ComputeService> = {
  bars: answer(engine.bars),
  figures: answer(engine.figures),
  full: answer(engine.full),
  back: answer(engine.back),
  cut: answer(engine.cut),
};

expose(service);
