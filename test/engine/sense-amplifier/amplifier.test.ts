import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { amplify, linearResponse } from '../../../engine/sense-amplifier/amplifier.ts';
import { greatestDifference, idealAmplifier, samples, senseChannel } from './sense-channel.ts';

const ns = 1e-9;
const quiet = (time: Float64Array): Float64Array => new Float64Array(time.length);
const hertz = (tau: number): number => 1 / (2 * Math.PI * tau);

describe('the linear part of the amplifier', () => {
  // Closed forms of the first-order lag (derived): ramp of slope k from rest gives k (t - tau (1 - e^(-t/tau))).
  it('gives the closed form of a ramp into one pole at every sample, however coarse the step', () => {
    const tau = 20 * ns;
    for (const step of [0.1 * ns, 1 * ns, 50 * ns, 1000 * ns]) {
      const time = samples(1000 * ns, step);
      const output = linearResponse({ ...idealAmplifier, bandwidth: hertz(tau) }, time, time.slice());
      const exact = time.map((t) => t - tau * (1 - Math.exp(-t / tau)));
      expect(greatestDifference(output, exact)).toBeLessThan(1e-12 * exact[exact.length - 1]);
    }
  });

  it('gives the closed form of a decay toward a step that was there one sample before', () => {
    const tau = 35 * ns;
    const step = 1 * ns;
    const time = samples(300 * ns, step);
    const input = time.map((t) => (t > 0 ? 1 : 0));
    const output = linearResponse({ ...idealAmplifier, bandwidth: hertz(tau) }, time, input);
    // Derived: one ramp of length h, then 1 - (1 - y(h)) e^(-(t - h)/tau), y(h) = 1 - (tau/h)(1 - e^(-h/tau)).
    const first = 1 - (tau / step) * (1 - Math.exp(-step / tau));
    const exact = time.map((t) => (t > 0 ? 1 - (1 - first) * Math.exp(-(t - step) / tau) : 0));
    expect(greatestDifference(output, exact)).toBeLessThan(1e-12);
  });

  it('gives the closed form of a ramp into two equal poles', () => {
    const tau = 15 * ns;
    const time = samples(200 * ns, 2 * ns);
    const amplifier = { ...idealAmplifier, bandwidth: hertz(tau), secondPole: hertz(tau) };
    const output = linearResponse(amplifier, time, time.slice());
    // Derived: t - 2 tau + (t + 2 tau) e^(-t/tau).
    const exact = time.map((t) => t - 2 * tau + (t + 2 * tau) * Math.exp(-t / tau));
    expect(greatestDifference(output, exact)).toBeLessThan(1e-12 * 200 * ns);
  });

  it('gives the closed form of a ramp into a high-pass: k tau (1 - e^(-t/tau))', () => {
    const tau = 3000 * ns;
    const time = samples(2000 * ns, 1 * ns);
    const output = linearResponse({ ...idealAmplifier, highPass: hertz(tau) }, time, time.slice());
    const exact = time.map((t) => tau * (1 - Math.exp(-t / tau)));
    expect(greatestDifference(output, exact)).toBeLessThan(1e-11 * exact[exact.length - 1]);
  });

  it('gives the same whatever the order of two different poles', () => {
    const time = samples(500 * ns, 1 * ns);
    const input = time.map((t) => Math.sin(t * 3e7) * Math.exp(-t / (100 * ns)));
    const a = linearResponse(
      { ...idealAmplifier, bandwidth: 5e6, secondPole: 4e7, highPass: 1e5 },
      time,
      input,
    );
    const b = linearResponse(
      { ...idealAmplifier, bandwidth: 4e7, secondPole: 5e6, highPass: 1e5 },
      time,
      input,
    );
    expect(greatestDifference(a, b)).toBeLessThan(1e-13);
  });

  it('obeys superposition', () => {
    const time = samples(100 * ns, 1 * ns);
    const amplifier = { ...idealAmplifier, bandwidth: 1e7, secondPole: 3e7, highPass: 2e5, gain: 40 };
    const trace = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 101, maxLength: 101 });
    fc.assert(
      fc.property(trace, trace, (a, b) => {
        const sum = linearResponse(
          amplifier,
          time,
          Float64Array.from(a, (value, i) => value + b[i]),
        );
        const parts = linearResponse(amplifier, time, Float64Array.from(b));
        const first = linearResponse(amplifier, time, Float64Array.from(a));
        expect(
          greatestDifference(
            sum,
            parts.map((value, i) => value + first[i]),
          ),
        ).toBeLessThan(1e-11);
      }),
      { numRuns: 50 },
    );
  });
});

describe('the amplifier', () => {
  it('takes 4.22 time constants from 340 mV to 5 mV', () => {
    // Derived: ln(340/5) = 4.2195; the currents are those of the PDP-8/E maintenance manual vol. 1, 1973.
    const tau = 100 * ns;
    const time = samples(1000 * ns, 1 * ns);
    const input = time.map((t) => (t > 0 ? 0 : 0.34));
    const output = linearResponse({ ...idealAmplifier, bandwidth: hertz(tau) }, time, input);
    const after = time[output.findIndex((value) => value < 0.005)];
    expect(Math.abs(after / tau / Math.log(340 / 5) - 1)).toBeLessThan(0.012);
    expect(Math.log(340 / 5)).toBeCloseTo(4.22, 2);
  });

  it('does not hear 10 V of common mode at a balanced input', () => {
    // A4: Goldstick and Klein, IRE Trans. EC 11(2), 1962 (abstract): the ideal balanced input.
    const time = samples(200 * ns, 1 * ns);
    const u = time.map((t) => 0.04 * Math.sin(t * 4e7));
    const common = time.map(() => 10);
    const design = senseChannel({ amplifier: { bandwidth: 1e7, gain: 50 } });
    expect(amplify(design, time, u, common).output).toEqual(amplify(design, time, u, quiet(time)).output);
  });

  it('lets through the common mode divided by a finite rejection', () => {
    const time = samples(20 * ns, 1 * ns);
    const design = senseChannel({ amplifier: { commonModeRejection: 60, divider: 0.5, gain: 8 } });
    const { output, referred } = amplify(
      design,
      time,
      quiet(time),
      time.map(() => 10),
    );
    expect(output[5]).toBeCloseTo(10 * 0.5 * 1e-3 * 8, 12);
    expect(referred[5]).toBeCloseTo(0.01, 12);
  });

  it('refers its output to the sense wire whatever divider and gain', () => {
    const time = samples(50 * ns, 1 * ns);
    const u = time.map((t) => t * 1e6);
    const { referred } = amplify(
      senseChannel({ amplifier: { divider: 0.25, gain: 120 } }),
      time,
      u,
      quiet(time),
    );
    expect(greatestDifference(referred, u)).toBeLessThan(1e-15);
  });

  it('hears both polarities when rectified and turns the sign of the selected core when it follows the address', () => {
    const time = samples(50 * ns, 1 * ns);
    const u = time.map((t) => -0.03 * Math.sin(t * 1e8));
    const either = amplify(senseChannel({ amplifier: { polarity: 'either' } }), time, u, quiet(time));
    expect(greatestDifference(either.output, u.map(Math.abs))).toBe(0);
    const turned = amplify(senseChannel(), time, u, quiet(time), { sign: -1 });
    expect(
      greatestDifference(
        turned.output,
        u.map((value) => -value),
      ),
    ).toBe(0);
  });

  it('clamps the divided input on both sides', () => {
    const time = samples(10 * ns, 1 * ns);
    const u = time.map((_, i) => (i % 2 ? 3 : -3));
    const design = senseChannel({ amplifier: { divider: 0.5, inputClamp: 0.6, gain: 2 } });
    expect(Array.from(amplify(design, time, u, quiet(time)).output.slice(0, 2))).toEqual([-1.2, 1.2]);
  });

  it('holds the limit for the recovery time after the overload has passed, and follows at once without', () => {
    const time = samples(300 * ns, 1 * ns);
    // Triangle of 4 V that falls through 2 V at 150 ns.
    const u = time.map((t) => Math.max(0, 4 - Math.abs(t - 100 * ns) / (25 * ns)));
    const held = amplify(
      senseChannel({ amplifier: { outputLimit: 2, recovery: 30.5 * ns } }),
      time,
      u,
      quiet(time),
    );
    const quick = amplify(senseChannel({ amplifier: { outputLimit: 2 } }), time, u, quiet(time));
    expect(held.output[149]).toBe(2);
    expect(held.output[180]).toBe(2);
    expect(held.output[181]).toBeCloseTo(u[181], 12);
    expect(quick.output[149]).toBe(2);
    expect(quick.output[151]).toBeCloseTo(u[151], 12);
  });

  it('keeps the side of an overload through the recovery of a signed output', () => {
    const time = samples(100 * ns, 1 * ns);
    const u = time.map((t) => (t < 20 * ns ? -5 : 0.1));
    const design = senseChannel({ amplifier: { outputLimit: 1, recovery: 50 * ns } });
    const { output } = amplify(design, time, u, quiet(time));
    expect(output[60]).toBe(-1);
    expect(output[80]).toBeCloseTo(0.1, 12);
  });
});
