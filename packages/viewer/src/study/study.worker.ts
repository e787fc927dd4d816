import { expose } from 'comlink';
import { type Answering, answer } from '../worker/answering.ts';
import { type StudyService, studyService } from './study-service.ts';

const service = Object.fromEntries(
  Object.entries(studyService).map(([name, work]) => [name, answer(work as (...args: unknown[]) => unknown)]),
) as unknown as Answering<StudyService>;

expose(service);
