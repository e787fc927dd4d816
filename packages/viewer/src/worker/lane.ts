import { type Remote, wrap } from 'comlink';
import type { OpenedBack } from '../state/documents.ts';
import type { AnsweringService } from './compute.worker.ts';
import { HELD_BACKS, type Inputs } from './inputs.ts';

/** The worker was stopped because nobody waits for its answer any more. */
export class Interrupted extends Error {}

/** One worker, the backs that it has, and the way to stop it in the middle of something. */
export class Lane {
  private worker!: Worker;
  private service!: Remote<AnsweringService>;
  private stopped!: Promise<never>;
  private stop!: (reason: Interrupted) => void;
  private sentBacks: number[] = [];

  constructor() {
    this.start();
  }

  /** Asks the worker; rejects with Interrupted when it is restarted meanwhile. */
  ask<Answer extends Promise<unknown>>(call: (service: Remote<AnsweringService>) => Answer): Promise<Awaited<Answer>> {
    return Promise.race([call(this.service), this.stopped]) as Promise<Awaited<Answer>>;
  }

  /** The inputs, with the back where this worker doesn't have it. Counts backs as the engine does. */
  packed(inputs: Inputs, back: OpenedBack): Inputs {
    if (this.sentBacks.includes(inputs.backId)) return inputs;
    this.sentBacks = [...this.sentBacks, inputs.backId].slice(-HELD_BACKS);
    return { ...inputs, back };
  }

  restart(): void {
    this.end();
    this.start();
  }

  end(): void {
    this.worker.terminate();
    this.stop(new Interrupted());
  }

  private start(): void {
    this.worker = new Worker(new URL('./compute.worker.ts', import.meta.url), { type: 'module' });
    this.service = wrap(this.worker);
    this.stopped = new Promise((_, reject) => {
      this.stop = reject;
    });
    // Nobody may be waiting when it is stopped.
    this.stopped.catch(() => undefined);
    this.sentBacks = [];
  }
}
