import { type Remote, wrap } from 'comlink';
import type { Answering } from './answering.ts';

/** The worker was stopped because nobody waits for its answer any more. */
export class Interrupted extends Error {}

/** One worker and the way to stop it in the middle of something. */
export class WorkerLine<Service> {
  private worker!: Worker;
  private service!: Remote<Answering<Service>>;
  private stopped!: Promise<never>;
  private stop!: (reason: Interrupted) => void;

  constructor(private readonly make: () => Worker) {
    this.start();
  }

  /** Asks the worker; rejects with Interrupted when it is restarted meanwhile. */
  ask<Answer extends Promise<unknown>>(
    call: (service: Remote<Answering<Service>>) => Answer,
  ): Promise<Awaited<Answer>> {
    return Promise.race([call(this.service), this.stopped]) as Promise<Awaited<Answer>>;
  }

  restart(): void {
    this.end();
    this.start();
  }

  end(): void {
    this.worker.terminate();
    this.stop(new Interrupted());
  }

  protected start(): void {
    this.worker = this.make();
    this.service = wrap(this.worker);
    this.stopped = new Promise((_, reject) => {
      this.stop = reject;
    });
    // Nobody may be waiting when it is stopped.
    this.stopped.catch(() => undefined);
  }
}
