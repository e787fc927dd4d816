import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

const conditions = ['barwright-source', 'module', 'node', 'import', 'default'];

/** Files of geometry that take half a minute and more. */
const LONG = ['packages/geometry/src/**/{how-sure-coverage,propose-scan,propose-scan-cloud}.test.ts'];

/** Files that may not share what others have loaded. */
const ALONE = ['packages/viewer/src/{state,study/compare,scene}/*.test.ts', 'tests/input/unreadable.test.ts'];

export default defineConfig({
  resolve: { conditions },
  ssr: { resolve: { conditions } },
  test: {
    environment: 'node',
    benchmark: { include: ['tests/benchmarks/**/*.bench.ts'] },
    // On two processors the default is one worker.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    testTimeout: 120_000,
    hookTimeout: 120_000,
    projects: [
      // Files may share what one of them has loaded, which is much of their time: nothing they load keeps a state between calls.
      // Geometry's share one worker for it, so the longest ones run with the others.
      {
        extends: true,
        test: {
          name: 'geometry',
          include: ['packages/geometry/src/**/*.test.ts'],
          exclude: [...LONG, '**/node_modules/**'],
          isolate: false,
        },
      },
      {
        extends: true,
        test: {
          name: 'across',
          include: ['packages/{cli,viewer}/src/**/*.test.ts', 'tests/**/*.test.ts', ...LONG],
          exclude: ['tests/browser/**', ...ALONE, '**/node_modules/**'],
          isolate: false,
        },
      },
      // The viewer's stores are the page's memory, and a stand-in for the file system is nobody else's: these begin anew.
      { extends: true, test: { name: 'alone', include: ALONE } },
      // Pages drawn in software answer late now and then on a busy machine; nothing else is tried again.
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: ['tests/browser/unpack.setup.ts'],
          isolate: false,
          retry: process.env.CI ? 2 : 0,
        },
      },
    ],
  },
});
