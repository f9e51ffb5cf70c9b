import { describe, expect, it } from 'vitest';
import { advise } from '../../engine/advice/advice.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { ADVICE_RUNS, WINDOW_RUNS } from '../../engine/estimates/cost.ts';
import { strobeWindow } from '../../engine/strobe/strobe-window.ts';
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

describe('a window', () => {
  it('runs no more cycles than it is priced at', () => {
    const design = checkDesign({ mat: { rows: 8, columns: 8 }, winding: { kind: 'shared-two-halves' } });
    const count = countingRuns();
    const { cases } = strobeWindow(design, { simulate: count.simulate });
    expect(count.cycles()).toBeGreaterThan(cases.length);
    expect(count.cycles()).toBeLessThanOrEqual(WINDOW_RUNS);
  });
});
