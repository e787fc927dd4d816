import { defineConfig } from 'vitest/config';

const conditions = ['barwright-source', 'module', 'node', 'import', 'default'];

export default defineConfig({
  resolve: { conditions },
  ssr: { resolve: { conditions } },
  test: {
    environment: 'node',
    include: ['packages/*/src/**/*.test.ts', 'tests/**/*.test.ts'],
    benchmark: { include: ['tests/benchmarks/**/*.bench.ts'] },
    // Pages drawn in software on a busy machine answer late now and then; everything else repeats to the same end.
    retry: process.env.CI ? 2 : 0,
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
