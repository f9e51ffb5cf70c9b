import { describe, expect, it } from 'vitest';
import type { Box } from '../../../engine/propose/box.ts';
import { reserveOf } from '../../../engine/propose/reserve.ts';
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
