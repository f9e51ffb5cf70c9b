import { defineConfig } from 'vitest/config';

const own = {
  dir: 'test',
  setupFiles: ['test/property-seed.ts'],
  testTimeout: 120_000,
  hookTimeout: 120_000,
};
const exclude = ['**/*.long.test.ts', '**/soak/**', '**/node_modules/**'];

export default defineConfig({
  test: {
    ...own,
    // A busy machine may take its time to show what is waited for.
    expect: { poll: { timeout: 60_000 } },
    pool: 'forks',
    maxWorkers: 2,
    reporters: process.env.CI ? ['default', ['json', { outputFile: '.results/test.json' }]] : ['default'],
    projects: [
      {
        extends: true,
        // Neither engine nor server keeps anything between files: a worker reads their modules once for all.
        test: {
          name: 'engine',
          include: ['{engine,independent,physics,web}/**/*.test.ts'],
          exclude,
          isolate: false,
        },
      },
      {
        extends: true,
        test: { name: 'server', include: ['server/**/*.test.ts'], exclude, isolate: false },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['browser/**/*.test.ts'],
          exclude,
          globalSetup: ['test/browser/page-once.ts'],
        },
      },
    ],
  },
});
