import type { Amplifier } from '../../../engine/design/sense.ts';
import { describe, expect, it } from 'vitest';
import { amplify, linearResponse } from '../../../engine/sense-amplifier/amplifier.ts';
import {
  baselineShift,
  meanCoupling,
  periodicSteadyState,
} from '../../../engine/sense-amplifier/periodic-steady-state.ts';
import { greatestDifference, idealAmplifier, samples, senseChannel } from './sense-channel.ts';
import { bell } from '../strobe/synthetic-strobe.ts';

const ns = 1e-9;
const us = 1e-6;
const quiet = (time: Float64Array): Float64Array => new Float64Array(time.length);
const greatest = (values: Float64Array): number => values.reduce((most, v) => Math.max(most, Math.abs(v)), 0);

/** A coupling spike, a ONE and a long inhibit pulse of the other sign, over by the end of the period. */
const cycle = (t: number): number =>
  bell(0.2, 60 * ns, 40 * ns)(t) + bell(0.04, 250 * ns, 100 * ns)(t) - bell(0.4, 1100 * ns, 350 * ns)(t);

/** The independent route: so many periods one after the other from rest, the last one returned. */
function repeatPeriods(
  amplifier: Amplifier,
  time: Float64Array,
  input: Float64Array,
  count: number,
): Float64Array {
  const cells = input.length - 1;
  const h = (time[cells] - time[0]) / cells;
  const times = Float64Array.from({ length: cells * count + 1 }, (_, i) => i * h);
  const all = times.map((_, i) => (i === cells * count ? input[cells] : input[i % cells]));
  return linearResponse(amplifier, times, all).slice(-(cells + 1));
}

describe('the periodic steady state', () => {
  it('agrees within 0.1 % of the peak with a long run in time, for rates, couplings and bandwidths', () => {
    for (const period of [2 * us, 2.7 * us, 5 * us])
      for (const highPass of [0, 3e4, 2e5])
        for (const bandwidth of [4e6, 3e7]) {
          const amplifier = { ...idealAmplifier, highPass, bandwidth, secondPole: 6e7, gain: 30 };
          const time = samples(period, 1 * ns);
          const input = time.map(cycle);
          const steady = periodicSteadyState(amplifier, time, input, quiet(time));
          // Ten time constants of the coupling leave 5e-5 of the transient.
          const count = highPass === 0 ? 3 : Math.ceil(10 / (2 * Math.PI * highPass) / period) + 2;
          const long = repeatPeriods(amplifier, time, input, count);
          expect(greatestDifference(steady.output, long)).toBeLessThan(1e-3 * greatest(long));
        }
  });

  it('has no mean behind AC coupling and the mean of its input without', () => {
    const time = samples(2 * us, 1 * ns);
    const input = time.map(cycle);
    const meanOf = (values: Float64Array): number =>
      values.slice(0, -1).reduce((sum, v) => sum + v, 0) / (values.length - 1);
    const coupled = periodicSteadyState(
      { ...idealAmplifier, highPass: 1e5, bandwidth: 2e7 },
      time,
      input,
      quiet(time),
    );
    const direct = periodicSteadyState({ ...idealAmplifier, bandwidth: 2e7 }, time, input, quiet(time));
    expect(Math.abs(meanOf(coupled.output))).toBeLessThan(1e-6);
    // Kinks between the samples of trace and transform cost 1e-5.
    expect(meanOf(direct.output) / meanOf(input)).toBeCloseTo(1, 4);
  });

  it('gives the coupling voltage from which a single cycle repeats itself', () => {
    const amplifier = { highPass: 5e4, bandwidth: 2e7, gain: 10 };
    const time = samples(3 * us, 1 * ns);
    const input = time.map(cycle);
    const design = senseChannel({ amplifier });
    const steady = periodicSteadyState(design.amplifier, time, input, quiet(time));
    const { output } = amplify(design, time, input, quiet(time), { coupling: steady.coupling });
    // From eight time constants of the pole on: amplify starts with the pole at rest.
    const after = 64;
    const difference = greatestDifference(output.slice(after), steady.output.slice(after));
    expect(difference).toBeLessThan(1e-3 * greatest(steady.output));
  });

  it('shifts the baseline by the mean of the pulses, in proportion to rate', () => {
    // Derived: pulses of area a at the rate f behind a coupling far slower than 1/f lie a f lower.
    const area = (0.4 * 350 * ns) / Math.acosh(Math.SQRT2);
    const pulse = (t: number): number => bell(0.4, 800 * ns, 350 * ns)(t);
    for (const period of [4 * us, 8 * us, 16 * us]) {
      const time = samples(period, 2 * ns);
      const amplifier = { ...idealAmplifier, highPass: 20 };
      const { coupling } = periodicSteadyState(amplifier, time, time.map(pulse), quiet(time));
      expect(baselineShift(amplifier, coupling) / (area / period)).toBeCloseTo(1, 2);
    }
  });

  it('shifts in proportion to how often a cycle is inhibited', () => {
    const time = samples(4 * us, 2 * ns);
    const amplifier = { ...idealAmplifier, highPass: 100, divider: 0.5 };
    const inhibited = { u: time.map((t) => bell(0.4, 800 * ns, 350 * ns)(t)), commonMode: quiet(time) };
    const open = { u: quiet(time), commonMode: quiet(time) };
    const shift = (duty: number): number =>
      baselineShift(
        amplifier,
        meanCoupling(amplifier, [
          { ...inhibited, share: duty },
          { ...open, share: 1 - duty },
        ]),
      );
    expect(shift(0)).toBe(0);
    expect(shift(0.5) / shift(1)).toBeCloseTo(0.5, 12);
    const one = periodicSteadyState(amplifier, time, inhibited.u, quiet(time));
    expect(shift(1) / baselineShift(amplifier, one.coupling)).toBeCloseTo(1, 2);
  });
});
