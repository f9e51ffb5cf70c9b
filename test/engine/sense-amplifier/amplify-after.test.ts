import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { amplifyAfter, outputAfter } from '../../../engine/sense-amplifier/amplify-after.ts';
import { greatestDifference, samples, senseChannel } from './sense-channel.ts';

const STEP = 1e-9;
const PERIOD = 4e-6;

/** A cycle with one burst, V: `at` and `width` in samples. */
function burst(count: number, at: number, width: number, volts: number) {
  const values = new Float64Array(count);
  for (let i = at; i < Math.min(count, at + width); i++) values[i] = volts;
  return values;
}

describe('the output after a cycle before', () => {
  // Its equal is the whole cycle before heard from its start, which nothing has been left out of.
  it('is that of the whole cycle before, whatever overload it held and whenever it ended', () => {
    fc.assert(
      fc.property(
        fc.record({
          bandwidth: fc.double({ min: 1e6, max: 1e9, noNaN: true }),
          secondPole: fc.constantFrom(Infinity, 2e6, 5e7),
          highPass: fc.constantFrom(0, 1e4),
          recovery: fc.constantFrom(0, 3e-8, 4e-7),
          outputLimit: fc.constantFrom(Infinity, 0.4),
        }),
        fc.integer({ min: 0, max: 3999 }),
        fc.integer({ min: 1, max: 2500 }),
        fc.double({ min: -2, max: 2, noNaN: true }),
        (amplifier, at, width, volts) => {
          const channel = senseChannel({ amplifier });
          const design = {
            ...channel,
            cycle: { ...channel.cycle, period: PERIOD },
            numerics: { ...channel.numerics, output: STEP },
          };
          const time = samples(1e-6, STEP);
          const before = {
            time: samples(PERIOD, STEP),
            jumps: new Uint8Array(4001).fill(1),
            endA: new Float64Array(4001),
            endB: burst(4001, at, width, volts),
          };
          const senseVoltage = burst(time.length, 200, 100, 0.05);
          const observed = { time, senseVoltage, commonMode: senseVoltage.map((v) => v / 2) };
          const whole = amplifyAfter(design, before, observed, {});
          const short = outputAfter(design, before, observed, {});
          expect(greatestDifference(short.output, whole.output)).toBeLessThan(1e-12);
          expect(greatestDifference(short.referred, whole.referred)).toBeLessThan(1e-12);
        },
      ),
    );
  });
});
