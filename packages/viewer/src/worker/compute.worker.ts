import { InputError } from '@barwright/geometry';
import { expose, transfer } from 'comlink';
import { buffersOf } from './buffers.ts';
import { createEngine } from './engine.ts';
import type { ComputeService } from './inputs.ts';

const engine = createEngine();

/** Answers go over with their buffers, refusals as plain details: an error's own fields don't survive the crossing. */
function answer<Args extends unknown[], T>(make: (...args: Args) => T) {
  return (...args: Args) => {
    try {
      const value = make(...args);
      return transfer({ ok: true as const, value }, buffersOf(value));
    } catch (error) {
      if (error instanceof InputError) return { ok: false as const, error: error.details };
      throw error;
    }
  };
}

const service: { [Name in keyof ComputeService]: Answered<ComputeService[Name]> } = {
  bars: answer(engine.bars),
  figures: answer(engine.figures),
  full: answer(engine.full),
  back: answer(engine.back),
  cut: answer(engine.cut),
};

type Answered<F> = F extends (...args: infer Args) => infer T
  ? (...args: Args) => { ok: true; value: T } | { ok: false; error: InputError['details'] }
  : never;

export type AnsweringService = typeof service;

expose(service);
