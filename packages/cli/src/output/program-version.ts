import manifest from '../../package.json' with { type: 'json' };

/** What made a document. */
export const PROGRAM = Object.freeze({ name: 'barwright', version: manifest.version });
