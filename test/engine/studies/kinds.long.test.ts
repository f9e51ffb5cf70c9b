import { describe, expect, it } from 'vitest';
import { DESIGN, run, value } from './run-study.ts';
import type { PointResult } from '../../../engine/studies/shared/shape.ts';

/**
 * The kinds on the real simulator, each held against a law or a sign that does not come from the study: counting of
 * half-selected cores, supply charge, a threshold's own derivative, the temperature signs of published manuals.
 */

describe('scale', () => {
  it('the largest mat passes and the next does not', () => {
    const limited = run(
      'scale',
      { sizes: [4], windings: ['shared-one-run'] },
      { ...DESIGN, requirement: { margin: '10 mV', sets: ['nominal'] } },
    );
    const largest = value(limited.results[1], 'largest');
    expect(largest).toBeGreaterThanOrEqual(4);
    expect(largest).toBeLessThan(128);
    const check = run(
      'scale',
      { sizes: [largest, largest + 2], windings: ['shared-one-run'], largest: false },
      { ...DESIGN, requirement: { margin: '10 mV', sets: ['nominal'] } },
    );
    expect(check.results.map((result) => result.values.pass)).toEqual([true, false]);
  });
});

describe('rate', () => {
  const coupled = { ...DESIGN, amplifier: { highPass: '1 kHz' } };

  it('a share of inhibited cycles that the design states lies between none and all', () => {
    const at = (share: object): PointResult =>
      run('rate', { steps: 2, from: '2 us', to: '8 us' }, { ...coupled, cycle: share }).results[2]!;
    const [ends, half] = [at({}), at({ inhibitedShare: 0.5 })];
    const middle = (value(ends, 'baselineNone') + value(ends, 'baselineAll')) / 2;
    expect(value(half, 'baseline')).toBeCloseTo(middle, 12);
    expect(value(half, 'margin')).toBeGreaterThanOrEqual(value(ends, 'margin') - 1e-9);
  });
});
