import type { OpenedBack } from '../state/documents.ts';
import type { Progress } from '../state/result-state.ts';
import { type ComputeService, HELD_BACKS, type Inputs } from './inputs.ts';
import { WorkerLine } from './worker-line.ts';

/** A compute worker and the backs that it has. */
export class Lane extends WorkerLine<ComputeService> {
  private sentBacks: number[] = [];

  /** `told` hears how far the opening of a scan is. */
  constructor(told: (progress: Progress) => void = () => undefined) {
    super(() => {
      const worker = new Worker(new URL('./compute.worker.ts', import.meta.url), { type: 'module' });
      worker.addEventListener('message', ({ data }: MessageEvent<{ progress?: Progress } | null>) => {
        if (data?.progress !== undefined) told(data.progress);
      });
      return worker;
    });
  }

  /** The inputs, with the back where this worker doesn't have it. Counts backs as the engine does. */
  packed(inputs: Inputs, back: OpenedBack): Inputs {
    if (this.sentBacks.includes(inputs.backId)) return inputs;
    this.sentBacks = [...this.sentBacks, inputs.backId].slice(-HELD_BACKS);
    return { ...inputs, back };
  }

  override restart(): void {
    this.sentBacks = [];
    super.restart();
  }
}
