import { describe, expect, it } from 'vitest';
import type { Box } from '../../../engine/propose/box.ts';
import { reserveOf, within } from '../../../engine/propose/reserve.ts';
import { yieldSlice } from '../../../engine/propose/yield-slice.ts';
import { bell, envelopeFrom } from '../strobe/synthetic-strobe.ts';

const flat = (level: number) => (): number => level;
const box = (change: Partial<Box> = {}): Box => ({
  constant: 10e-3,
  bare: 5e-3,
  share: 0,
  guard: 0,
  width: 0,
  delay: 0,
  ...change,
});

describe('the reserve of a build', () => {
  it('is the gap between least ONE and greatest ZERO over the height that is asked for', () => {
    const found = reserveOf(envelopeFrom([flat(50e-3)], [flat(20e-3)]), undefined, box());
    expect(found.reserve).toBeCloseTo(30 / 20, 5);
    expect(found.threshold).toBeCloseTo(35e-3, 6);
  });

  it('counts the part of the threshold that is not known: (zero + k u) / (1 - k c) meets (one - k u) / (1 + k c)', () => {
    const share = 0.04;
    const { reserve: k, threshold } = reserveOf(
      envelopeFrom([flat(50e-3)], [flat(20e-3)]),
      undefined,
      box({ share }),
    );
    expect((20e-3 + k * 10e-3) / (1 - k * share)).toBeCloseTo((50e-3 - k * 10e-3) / (1 + k * share), 6);
    expect(threshold).toBeCloseTo((50e-3 - k * 10e-3) / (1 + k * share), 6);
  });

  it('is as small as the window allows: the second box lies under the bell at its full width', () => {
    // A bell of 60 mV is over 5k mV + nothing at +- k width; sech^2 solves in closed form.
    const scale = (2 * Math.acosh(Math.SQRT2)) / 100e-9;
    const { reserve: k, strobe } = reserveOf(
      envelopeFrom([bell(60e-3, 300e-9, 100e-9)], [flat(0)]),
      undefined,
      box({ constant: 1e-3, width: 40e-9 }),
    );
    const least = 60e-3 / Math.cosh(k * 40e-9 * scale) ** 2;
    expect(least).toBeCloseTo(2 * k * 5e-3, 4);
    expect(strobe).toBeCloseTo(300e-9, 8);
  });

  it('is no greater than a weak core lets it be, which need not have the margin asked for', () => {
    const envelope = envelopeFrom([flat(50e-3)], [flat(20e-3)]);
    const weak = envelopeFrom([flat(41e-3)], [flat(29e-3)]);
    expect(reserveOf(envelope, weak, box()).reserve).toBeCloseTo(12 / 10, 5);
  });

  it('goes on below nothing, the farther a ONE lies under a ZERO, so that a search knows its way', () => {
    const at = (one: number): number =>
      reserveOf(envelopeFrom([flat(one)], [flat(20e-3)]), undefined, box()).reserve;
    expect(at(19e-3)).toBeLessThan(0);
    expect(at(15e-3)).toBeLessThan(at(19e-3));
    expect(at(20e-3 + 1e-9)).toBeCloseTo(0, 3);
  });
});

describe('strobe and threshold for yield', () => {
  const envelope = envelopeFrom([flat(50e-3)], [flat(20e-3)]);

  it('lie where cores far off are farthest from the threshold, of those that leave all that is asked for', () => {
    // 10 mV either way (and a hundredth for rounding) leave 30.1 to 39.9 mV; the middle of the far ones is 31.
    const near = yieldSlice(envelope, undefined, box(), envelopeFrom([flat(40e-3)], [flat(22e-3)]))!;
    expect(near.threshold).toBeCloseTo(31e-3, 9);
    expect(near.clear).toBeCloseTo(9e-3, 9);
    // The nearest trace is 11 mV off; 10 are asked for.
    expect(near.reserve).toBeCloseTo(1.1, 5);
    const low = yieldSlice(envelope, undefined, box(), envelopeFrom([flat(25e-3)], [flat(5e-3)]))!;
    expect(low.threshold).toBeCloseTo(30.1e-3, 9);
    expect(low.clear).toBeCloseTo(-5.1e-3, 9);
    expect(low.reserve).toBeCloseTo(1.01, 5);
  });

  it('are none where not all that is asked for is there', () => {
    const far = envelopeFrom([flat(40e-3)], [flat(22e-3)]);
    expect(yieldSlice(envelope, undefined, box({ constant: 15e-3 }), far)).toBeUndefined();
  });
});

it('looks at the worst within a reach as at every sample in it, straight between', () => {
  const values = Float64Array.from({ length: 60 }, (_, i) => Math.sin(i * i) + 0.1 * Math.cos(i));
  for (const reach of [0, 0.4, 1, 2.7, 9]) {
    const { one, zero } = within({ one: values, zero: values }, reach, [3, 50]);
    const at = (t: number): number => {
      const held = Math.min(59, Math.max(0, t));
      const i = Math.min(58, Math.floor(held));
      return values[i]! + (held - i) * (values[i + 1]! - values[i]!);
    };
    for (let i = 3; i <= 50; i++) {
      const whole = Array.from({ length: 2 * Math.floor(reach) + 1 }, (_, d) => i - Math.floor(reach) + d);
      const all = [...whole, i - reach, i + reach].map(at);
      expect([one[i], zero[i]]).toEqual([
        expect.closeTo(Math.min(...all), 12),
        expect.closeTo(Math.max(...all), 12),
      ]);
    }
  }
});
