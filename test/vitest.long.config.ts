import { defineConfig } from 'vitest/config';

/** What is too long for `npm test`: the same kind of tests, in files that end in .long.test.ts. */
export default defineConfig({
  test: {
    dir: 'test',
    setupFiles: ['test/property-seed.ts'],
    // A browser test may wait for a large design twice on a machine that is slow and busy.
    testTimeout: 300_000,
    hookTimeout: 120_000,
    expect: { poll: { timeout: 60_000 } },
    pool: 'forks',
    maxWorkers: 2,
    reporters: process.env.CI ? ['default', ['json', { outputFile: '.results/long.json' }]] : ['default'],
    projects: [
      {
        extends: true,
        test: { name: 'engine', include: ['{engine,physics,web}/**/*.long.test.ts'], isolate: false },
      },
      { extends: true, test: { name: 'server', include: ['server/**/*.long.test.ts'], isolate: false } },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['browser/**/*.long.test.ts'],
          globalSetup: ['test/browser/page-once.ts'],
        },
      },
    ],
  },
});
