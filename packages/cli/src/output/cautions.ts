import { CAUTIONS as ALL } from '@barwright/geometry';

/** What every result says in full, whoever reads it. */
export const CAUTIONS: readonly string[] = ALL.map(({ full }) => full);

const SHORT = ['shapes-only', 'relative-pressure', 'capacity'];

/** What stands under every table; the JSON document has the full text. */
export const SHORT_CAUTION = `${ALL.filter(({ id }) => SHORT.includes(id))
  .map(({ short }) => short)
  .join(' ')} Full cautions are in the JSON document.`;
