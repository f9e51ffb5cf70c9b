import { expect, test } from 'vitest';
import type { FitCapture } from '../../../engine/fitting/fit-captures.ts';
import { fitDesign } from '../../../engine/fitting/fit-design.ts';
import { capture, SMALL } from '../../independent/builds.ts';

const taken = (bandwidth: number, index: number) =>
  capture(SMALL, [], { until: 600e-9, instrument: { noise: 0.5e-3, bandwidth, probe: 0.97, index } });
const fitted = (bandwidth: number, index: number, more: Partial<FitCapture>) =>
  fitDesign({
    design: SMALL,
    captures: [{ label: 'one', trace: taken(bandwidth, index), ...more }],
    unknowns: ['mutual'],
  });

test.each([15e6, 25e6, 60e6])(
  'the bandwidth of %s Hz and the probe of an instrument are found with intervals that hold them',
  (bandwidth) => {
    const fit = fitted(bandwidth, bandwidth / 1e6, { freeBandwidth: true, probeGain: 'free' });
    const [gain, found] = fit.captures[0]!.instrument;
    expect(gain!.what).toBe('gain');
    expect(gain!.low).toBeLessThan(0.97);
    expect(gain!.high).toBeGreaterThan(0.97);
    expect(found!.low).toBeLessThan(bandwidth);
    expect(found!.high).toBeGreaterThan(bandwidth);
    expect(found!.high / found!.low).toBeLessThan(1.5);
    expect(fit.statements.join(' ')).toContain('the bandwidth of its instrument is found to be');
  },
);

test('a design is seen through a bandwidth that is stated', () => {
  const missed = (more: Partial<FitCapture>): number => fitted(25e6, 25, more).captures[0]!.comparison.rms;
  expect(missed({ bandwidth: 25e6 })).toBeLessThan(0.3 * missed({}));
});
