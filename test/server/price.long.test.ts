import { describe, expect, it } from 'vitest';
import { advise } from '../../engine/advice/advice.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { ADVICE_RUNS } from '../../engine/estimates/cost.ts';
import { countingRuns } from './counting-runs.ts';

describe('an advice', () => {
  it('runs no more cycles than it is priced at, even where what is wanted cannot be had', () => {
    const design = checkDesign({
      mat: { rows: 4, columns: 4 },
      requirement: { margin: '1 V', width: '1 us' },
    });
    const count = countingRuns();
    advise(design, { simulate: count.simulate });
    expect(count.cycles()).toBeGreaterThan(100);
    expect(count.cycles()).toBeLessThanOrEqual(ADVICE_RUNS);
  });
});
