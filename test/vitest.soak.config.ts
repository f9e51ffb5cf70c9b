import { defineConfig } from 'vitest/config';

/** Whose figures are times, or the memory of a whole server: nothing else may run beside them. */
const ALONE = ['bad-requests', 'fairness', 'jobs', 'memory', 'saves'].map((name) => `${name}.soak.ts`);

/** The longer tests, bounded in time, each printing its figure: those that need the machine first, one by one. */
export default defineConfig({
  test: {
    dir: 'test/soak',
    setupFiles: ['test/property-seed.ts'],
    testTimeout: 600_000,
    hookTimeout: 120_000,
    pool: 'forks',
    // What is built is imported as it ships.
    server: { deps: { external: [/\/dist\/(engine|server)\//u] } },
    reporters: process.env.CI ? ['default', ['json', { outputFile: '.results/soak.json' }]] : ['default'],
    projects: [
      {
        extends: true,
        test: { name: 'alone', include: ALONE, maxWorkers: 1, sequence: { groupOrder: 1 } },
      },
      {
        extends: true,
        test: {
          name: 'beside',
          include: ['**/*.soak.ts'],
          exclude: ALONE,
          maxWorkers: 2,
          sequence: { groupOrder: 2 },
        },
      },
    ],
  },
});
