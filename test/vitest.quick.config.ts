import { defineConfig } from 'vitest/config';

/** What is over within seconds and needs neither a build nor a browser: while one works. */
export default defineConfig({
  test: {
    dir: 'test',
    include: [
      'engine/*.test.ts',
      'engine/{base,capture,check,drive,estimates,numerics,sense-amplifier}/*.test.ts',
      'web/**/*.test.ts',
      'server/{bad-requests,fairness,imports,kept-captures,limits,parse-json,saved-*,security,study-job}.test.ts',
    ],
    exclude: ['**/*.long.test.ts', 'web/bench.test.ts', '**/node_modules/**'],
    setupFiles: ['test/property-seed.ts'],
    testTimeout: 30_000,
    pool: 'forks',
    isolate: false,
    maxWorkers: 2,
  },
});
