import { WorkerLine } from '../worker/worker-line.ts';
import type { StudyService } from './study-service.ts';

let line: WorkerLine<StudyService> | null = null;

/** The studies' own worker, so that dragging goes on while they run; made when it is first asked something. */
export function studyLine(): WorkerLine<StudyService> {
  line ??= new WorkerLine(() => new Worker(new URL('./study.worker.ts', import.meta.url), { type: 'module' }));
  return line;
}
