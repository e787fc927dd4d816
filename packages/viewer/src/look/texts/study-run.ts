/** What every study says of its work as it goes: how far it is, that it was stopped, and a fault of ours. */
export const STUDY_RUN_TEXTS = {
  laying: 'Laying it out',
  progress: (done: number, total: number, unit: string) => `${done} of ${total} ${unit}`,
  stopped: 'Stopped.',
  stop: 'Stop',
  goOn: 'Go on',
  finished: 'the study to be finished',
  fault: 'This is a fault in Barwright, not in your input. Your documents are safe; close the study and open it again.',
} as const;
