import { InputError } from '@barwright/geometry';
import { transfer } from 'comlink';
import { buffersOf } from './buffers.ts';

/** A service as the page sees it: answers, or the details of a refusal. */
export type Answering<Service> = {
  [Name in keyof Service]: Service[Name] extends (...args: infer Args) => infer Answer
    ? (...args: Args) => Answered<Awaited<Answer>> | Promise<Answered<Awaited<Answer>>>
    : never;
};

export type Answered<T> = { ok: true; value: T } | { ok: false; error: InputError['details'] };

/** Answers go over with their buffers, refusals as plain details: an error's own fields don't survive the crossing. */
export function answer<Args extends unknown[], T>(make: (...args: Args) => T | Promise<T>) {
  return async (...args: Args): Promise<Answered<T>> => {
    try {
      const value = await make(...args);
      return transfer({ ok: true as const, value }, buffersOf(value));
    } catch (error) {
      if (error instanceof InputError) return { ok: false as const, error: error.details };
      throw error;
    }
  };
}
