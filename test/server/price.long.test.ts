import { describe, expect, it } from 'vitest';
import { advise } from '../../engine/advice/advice.ts';
import type { Patch } from '../../engine/base/json-patch.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { ADVICE_RUNS, WINDOW_RUNS } from '../../engine/estimates/cost.ts';
import { diagnosisRuns, fitRuns } from '../../engine/fitting/bench-cost.ts';
import { diagnose } from '../../engine/fitting/diagnosis/diagnose.ts';
import { fitDesign } from '../../engine/fitting/fit-design.ts';
import { strobeWindow } from '../../engine/strobe/strobe-window.ts';
import { JIG, record } from '../physics/fit-helpers.ts';
import { countingRuns } from './counting-runs.ts';

const BENCH = { seed: 4, noise: 0.3e-3, step: 0.1e-3, delay: 0, offset: 2e-3 };

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

describe('a fit and a diagnosis', () => {
  const changes: Patch[] = [{ path: '/core/parameters/remanentFlux', value: '3.1 nWb' }];
  const captures = [
    { label: 'a', trace: record(JIG, changes, { ...BENCH, index: 0 }) },
    { label: 'b', trace: record(JIG, changes, { ...BENCH, index: 1, delay: 1e-6 }) },
  ];

  it('run no more cycles than they are priced at', () => {
    const fit = countingRuns();
    fitDesign({
      design: JIG,
      captures,
      unknowns: ['coreFlux', 'coreThreshold', 'mutual'],
      maxIterations: 12,
      simulate: fit.simulate,
    });
    expect(fit.cycles()).toBeGreaterThan(100);
    expect(fit.cycles()).toBeLessThanOrEqual(2 * fitRuns(3, 12));
    const look = countingRuns();
    // Nothing of the list is a hum: pairs are tried too.
    const [{ trace }] = captures;
    const hum = trace.value.map((v, i) => v + 20e-3 * Math.sin(2 * Math.PI * 7e6 * trace.time[i]));
    const { explanations } = diagnose({
      design: JIG,
      captures: [{ label: 'hum', trace: { time: trace.time, value: hum } }],
      simulate: look.simulate,
    });
    expect(explanations.some(({ code }) => code.includes(' + '))).toBe(true);
    expect(look.cycles()).toBeLessThanOrEqual(diagnosisRuns());
  });
});
