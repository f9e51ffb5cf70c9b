import { expect, test } from 'vitest';
import { COVERED, coverage } from '../physics/fit-helpers.ts';

test('planted parameters lie inside their 95 % interval in at least 93 % of 200 captures with noise and quantisation', () => {
  const hits = coverage(200);
  console.log('inside their 95 % interval, of 200:', hits);
  for (const name of COVERED) expect(hits[name], name).toBeGreaterThanOrEqual(186);
});
