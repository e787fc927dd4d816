/** What the page refuses and what it has just done, in sentences. Refusals of documents come from the geometry. */
export const REFUSAL_TEXTS = {
  expected: (expected: string) => `Expected ${expected}`,
  expectedDo: (expected: string, remedy: string) => `Expected ${expected}. ${remedy}`,
  found: (got: string) => `, found ${got}`,
  length: { expected: 'a length', remedy: 'Write 15 mm or 5/8 in.' },
  pairs: { expected: 'pairs of numbers with semicolons between them', remedy: 'Write for example 25 40; 50 115' },
  unknownFile: {
    expected: (schemas: string) => `one of ${schemas}`,
    remedy: 'Open a whole bench, a pattern, back, setup, lesson, rider, riding or shelf in the format of this program.',
  },
  missingScan: {
    expected: 'the scan that this document names',
    remedy: (file: string, scan: string) => `Open ${file} and ${scan} together.`,
  },
  missingOfLesson: {
    expected: 'every document that the lesson names',
    remedy: (file: string, name: string) => `Open ${file} together with ${name}.`,
  },
  notForLesson: {
    expected: 'a setup that a lesson can hold: single values changed from the default',
    remedy: 'A lesson holds no shims, further forces, curves or other layers; take them out before the step is taken.',
  },
  heldByLesson: {
    expected: 'a value that this step of the lesson leaves free',
    remedy: 'The step holds it so that only one thing changes. Close the lesson to change it.',
  },
  notReady: { expected: 'the bench to be ready', remedy: 'It is still loading; try again in a moment.' },
  fault: {
    expected: 'the calculation to finish',
    remedy: 'This is a fault in Barwright, not in your input. Your documents are safe; undo, or reload the page.',
  },
  link: {
    name: 'the link',
    noText: 'no text',
    expected: 'a whole link, as Save copies it',
    remedy: 'Nothing was changed. Ask for the link again, or for the bench as one file; some programs cut long links',
    tooLong: 'it is longer than a link of this bench can be',
    unpacksTooMuch: 'it unpacks to more than a bench can be',
  },
  noDecoder: (status: number) => `The decoder for Draco could not be loaded (${status}).`,
  scanUnread: 'the scan could not be read',
  scanGone: (fileName: string) => `the scan ${fileName} is no longer kept in this browser`,
  stateGone: 'this state is no longer kept in this browser',
  workGone: 'that work is no longer kept in this browser',
  patternUnread: (expected: string) => `its pattern can't be read, expected ${expected}`,
  setupUnread: (expected: string) => `its setup can't be read, expected ${expected}`,
  nothingChanged: (why: string) => `Nothing was changed: ${why}.`,
  keptUnread: (what: string, expected: string) =>
    `The ${what} kept from last time could not be read (expected ${expected}). It is put aside in this browser; the first demo stands in for it.`,
} as const;

/** What has just been done, told once. */
export const NOTICE_TEXTS = {
  saved: (file: string) => `Saved ${file}: pattern, horse and setup in one.`,
  openedLink: (pattern: string, back: string) =>
    `Opened ${pattern} on ${back} from the link. Undo brings back what was here.`,
  wentBack: (clock: string, says: string) => `Went back to ${clock}: ${says}. Undo takes it back.`,
  openedCopy: (name: string, clock: string) => `Opened a copy of ${name}, kept ${clock}. Undo takes it back.`,
  on: (pattern: string, back: string) => `${pattern} on ${back}`,
} as const;
