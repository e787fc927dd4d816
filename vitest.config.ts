import { defineConfig } from 'vitest/config';

const conditions = ['barwright-source', 'module', 'node', 'import', 'default'];

export default defineConfig({
  resolve: { conditions },
  ssr: { resolve: { conditions } },
  test: {
    environment: 'node',
    include: ['packages/*/src/**/*.test.ts', 'tests/**/*.test.ts'],
    benchmark: { include: ['tests/benchmarks/**/*.bench.ts'] },
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
