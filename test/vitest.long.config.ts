import { defineConfig } from 'vitest/config';
import short from './vitest.config.ts';

/** What is too long for `npm test`: the same kind of tests, in the same way, in files that end in .long.test.ts. */
export default defineConfig({
  test: {
    ...short.test,
    include: ['**/*.long.test.ts'],
    exclude: ['**/node_modules/**'],
    reporters: process.env.CI ? ['default', ['json', { outputFile: '.results/long.json' }]] : ['default'],
  },
});
