import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    dir: 'test',
    include: ['**/*.test.ts'],
    setupFiles: ['test/property-seed.ts'],
    exclude: ['**/*.long.test.ts', '**/soak/**', '**/node_modules/**'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // A busy machine may take its time to show what is waited for.
    expect: { poll: { timeout: 15_000 } },
    pool: 'forks',
    maxWorkers: 2,
    reporters: process.env.CI ? ['default', ['json', { outputFile: '.results/test.json' }]] : ['default'],
  },
});
