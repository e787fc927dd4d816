import { expose } from 'comlink';
import { type Answering, answer } from '../worker/answering.ts';
import { type DeskService, deskService } from './desk-service.ts';

const service = Object.fromEntries(
  Object.entries(deskService).map(([name, work]) => [name, answer(work as (...args: unknown[]) => unknown)]),
) as unknown as Answering<DeskService>;

expose(service);
