/** The measuring desk: what lies on it, its undo and the record of a back. */
export const DESK_TEXTS = {
  titles: {
    scan: 'A scan becomes a back',
    tracings: 'Tracings become a back',
    photo: 'A photo of a tracing',
    numbers: 'A back from a few numbers',
    'two-backs': 'Two backs of one horse',
  },
  titleOf: (title: string, fileName: string) => `${title}: ${fileName}`,
  toBench: 'Back to the bench',
  working: 'Laying it out…',
  undo: '↶ Undo here',
  redo: '↷ Redo here',
  record: {
    title: 'The record of this back',
    fields: {
      name: 'Name of the back',
      by: 'Measured by',
      on: 'Measured on',
      uncertaintyMm: 'Good to, ± mm',
      uncertaintyDeg: 'Good to, ± degrees',
      surface: 'Measured over',
      how: 'How it was measured',
      horse: 'Horse',
      owner: 'Owner',
      notes: 'Notes',
    },
    hints: {
      uncertaintyMm: 'common practice, no source; put your own',
      owner: 'kept in this browser; left out of what is saved unless you ask',
    },
    surfaces: { bare: 'the bare back', 'over pad': 'a pad' },
    faults: {
      name: 'A back needs a name.',
      on: 'The day it was measured.',
      uncertaintyMm: (most: number) => `A number of mm from 0 to ${most}.`,
      uncertaintyDeg: (most: number) => `Degrees from 0 to ${most}.`,
    },
  },
} as const;
