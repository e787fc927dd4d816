import { compareService } from './compare/compare-service.ts';
import { giveService } from './give/give-service.ts';
import { horsesService } from './horses/horses-service.ts';
import { reachService } from './reach/reach-service.ts';
import { ridingService } from './riding/riding-service.ts';
import { shoulderService } from './shoulder/shoulder-service.ts';
import { sizingService } from './sizing/sizing-service.ts';
import { stationsService } from './stations/stations-service.ts';
import { sureService } from './sure/sure-service.ts';
import { takeOffService } from './takeoff/takeoff-service.ts';

/**
 * What takes seconds and is asked for on purpose: the stride, sizing a shelf, the reach of a tree, what gives, how sure a result is. Put
 * together from one file for each; refused inputs throw InputError; restarting the worker stops it.
 */
export const studyService = {
  ...shoulderService,
  ...ridingService,
  ...sizingService,
  ...sureService,
  ...reachService,
  ...giveService,
  ...takeOffService,
  ...stationsService,
  ...compareService,
  ...horsesService,
};

export type StudyService = typeof studyService;
