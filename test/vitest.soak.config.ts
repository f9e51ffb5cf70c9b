import { defineConfig } from 'vitest/config';

/** The longer tests: bounded in time, one after the other, each printing its figure. */
export default defineConfig({
  test: {
    dir: 'test/soak',
    include: ['**/*.soak.ts'],
    setupFiles: ['test/property-seed.ts'],
    testTimeout: 600_000,
    hookTimeout: 120_000,
    pool: 'forks',
    maxWorkers: 1,
    fileParallelism: false,
    reporters: process.env.CI ? ['default', ['json', { outputFile: '.results/soak.json' }]] : ['default'],
  },
});
