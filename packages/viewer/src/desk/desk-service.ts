import { photoService } from './photo/photo-service.ts';
import { scanService } from './scan/scan-service.ts';
import { tracingsService } from './tracings/tracings-service.ts';
import { twoBacksService } from './two-backs/two-backs-service.ts';

/**
 * All that the measuring desk asks of its worker, put together from one file for each kind of work. Refused inputs throw
 * InputError; what takes long can be stopped by restarting the worker.
 */
export const deskService = {
  ...photoService,
  ...scanService,
  ...tracingsService,
  ...twoBacksService,
};

export type DeskService = typeof deskService;
