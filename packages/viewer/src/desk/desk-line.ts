import { WorkerLine } from '../worker/worker-line.ts';
import type { DeskService } from './desk-service.ts';

let line: WorkerLine<DeskService> | null = null;

/** The desk's own worker, made when it is first asked something. */
export function deskLine(): WorkerLine<DeskService> {
  line ??= new WorkerLine(() => new Worker(new URL('./desk.worker.ts', import.meta.url), { type: 'module' }));
  return line;
}
