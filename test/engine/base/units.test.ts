import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { formatQuantity, writeQuantity } from '../../../engine/base/format-quantity.ts';
import {
  DIMENSIONS,
  parseQuantity,
  readPeriod,
  readQuantity,
  type Unit,
} from '../../../engine/base/units.ts';

// Conversions are definitions: SI prefixes, the mil (25.4 um), the oersted (1000/(4 pi) A/m), 0 °C = 273.15 K.

describe('reading quantities', () => {
  it.each<[string, Unit, number]>([
    ['370 mA', 'A', 0.37],
    ['370mA', 'A', 0.37],
    ['40 ns', 's', 4e-8],
    ['2.5 nH', 'H', 2.5e-9],
    ['2,5 nH', 'H', 2.5e-9],
    ['50 mil', 'm', 1.27e-3],
    ['1.4 Oe', 'A/m', 1400 / (4 * Math.PI)],
    ['-40 mV', 'V', -0.04],
    ['\u221240 mV', 'V', -0.04],
    ['1.5 us', 's', 1.5e-6],
    ['1.5 \u00B5s', 's', 1.5e-6],
    ['1.5 \u03BCs', 's', 1.5e-6],
    ['1 uH', 'H', 1e-6],
    ['20 mohm', 'ohm', 0.02],
    ['20 kohm', 'ohm', 20e3],
    ['20 Mohm', 'ohm', 20e6],
    ['20 \u03A9', 'ohm', 20],
    ['20 \u2126', 'ohm', 20],
    ['2.7 nWb', 'Wb', 2.7e-9],
    ['2.7 mV*us', 'Wb', 2.7e-9],
    ['10 nA s', 'C', 1e-8],
    ['3 mV/us', 'V/s', 3000],
    ['-0.2 %/K', '1/K', -0.002],
    ['-0.2 %/\u00B0C', '1/K', -0.002],
    ['-0.002 1/K', '1/K', -0.002],
    ['300 ppm/K', '1/K', 3e-4],
    ['60 dB', 'dB', 60],
    ['15 K', 'K', 15],
    ['15 degC', 'K', 15],
    ['1e3 ns', 's', 1e-6],
    ['.5 V', 'V', 0.5],
    ['1 uS', 'S', 1e-6],
    ['20 MHz', 'Hz', 2e7],
  ])('reads "%s" as %s', (text, unit, value) => {
    expect(parseQuantity(text, unit) / value).toBeCloseTo(1, 12);
  });

  it('reads a decimal text with a prefix as the nearest double, as if the exponent had been typed', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 999_999 }),
        fc.constantFrom<[string, number]>(['n', -9], ['u', -6], ['m', -3], ['p', -12]),
        (digits, [prefix, power]) => {
          expect(parseQuantity(`${digits} ${prefix}s`, 's')).toBe(Number(`${digits}e${power}`));
        },
      ),
    );
  });

  it('does not take 20 milliohm for 20 metre-ohm, in either code point of ohm', () => {
    expect(parseQuantity('20 m\u03A9', 'ohm')).toBe(0.02);
    expect(parseQuantity('20 m\u2126', 'ohm')).toBe(0.02);
  });

  it.each<[string, Unit, number]>([
    ['20 M\u03A9', 'ohm', 20e6],
    ['20 M\u2126', 'ohm', 20e6],
    ['4,7 k\u03A9', 'ohm', 4700],
    ['20 \u00B5\u03A9', 'ohm', 20e-6],
    ['20 \u03BC\u2126', 'ohm', 20e-6],
    ['3 mH', 'H', 3e-3],
    ['3 \u00B5H', 'H', 3e-6],
    ['3 mm', 'm', 3e-3],
    ['3 mS', 'S', 3e-3],
    ['3 mF', 'F', 3e-3],
    ['3 mA*\u00B5s', 'C', 3e-9],
    ['0,5 mV\u00B7\u00B5s', 'Wb', 5e-10],
    ['-1,5e-3 V', 'V', -1.5e-3],
  ])('reads "%s" as %s, m and M and µ before any sign', (text, unit, value) => {
    expect(parseQuantity(text, unit) / value).toBeCloseTo(1, 12);
  });

  it.each([
    ['20 m ohm', 'ohm'],
    ['20 m*ohm', 'ohm'],
    ['20 m\u00B7\u03A9', 'ohm'],
    ['20 metre', 'ohm'],
    ['20 mohm m', 'ohm'],
    ['3 m H', 'H'],
    ['1.000,5 V', 'V'],
    ['1 000 V', 'V'],
    ['0x10 V', 'V'],
    ['1_000 V', 'V'],
    ['\u0663 V', 'V'],
    ['3 V V', 'V'],
    ['3 V/0', 'V'],
    ['3 V;', 'V'],
  ] as const)('does not guess what "%s" means', (text, unit) => {
    expect(readQuantity(text, unit).ok).toBe(false);
  });

  it('takes 25 °C for a temperature and not for an interval', () => {
    for (const text of ['25 \u00B0C', '25 degC', '25 C', '25\u00B0 C', '298.15 K'])
      expect(parseQuantity(text, '°C')).toBeCloseTo(25, 10);
  });

  it('tells milli from mega and second from siemens', () => {
    expect(parseQuantity('1 mA', 'A')).toBe(1e-3);
    expect(parseQuantity('1 MA', 'A')).toBe(1e6);
    expect(readQuantity('40 nS', 's')).toEqual({ ok: false, why: 'is "40 nS", a conductance' });
  });

  it.each<[string, Unit, string]>([
    ['40', 's', 'is "40", a bare number without a unit'],
    ['40 mV', 's', 'is "40 mV", a voltage'],
    ['4 blah', 's', 'is "4 blah", whose unit "blah" is not known'],
    ['fast', 's', 'is "fast", which does not start with a number'],
    ['', 's', 'is "", which does not start with a number'],
    ['1.2.3 s', 's', 'is "1.2.3 s", which does not start with a number'],
    ['1,250 us', 's', 'is "1,250 us", which could be read in two ways (write "1250" or "1.250")'],
    ['1e400 s', 's', 'is "1e400 s", which is too large'],
    ['5 eV', 'V', 'is "5 eV", another kind of quantity'],
    [`${'1'.repeat(39)} s`, 's', 'has 41 characters where at most 40 are read'],
  ])('refuses "%s" as %s in words', (text, unit, why) => {
    expect(readQuantity(text, unit)).toEqual({ ok: false, why });
  });

  it('reads a comma before three digits when only one reading makes sense', () => {
    expect(parseQuantity('0,125 us', 's')).toBe(1.25e-7);
  });

  it('throws one sentence from parseQuantity', () => {
    expect(() => parseQuantity('40 mV', 's')).toThrow(
      'A quantity must be a time with its unit (s), but is "40 mV", a voltage.',
    );
  });

  it('never throws and never gives a number that is not finite, whatever the text', () => {
    const units = Object.keys(DIMENSIONS) as Unit[];
    const texts = fc.oneof(
      fc.string(),
      fc.string({ unit: 'grapheme', maxLength: 60 }),
      fc
        .tuple(fc.double(), fc.constantFrom('ns', 'mV', '/', '*', '^2', 'K', '°', 'Ω', '%'))
        .map(([n, u]) => `${n} ${u}`),
    );
    fc.assert(
      fc.property(texts, fc.constantFrom(...units), (text, unit) => {
        const reading = readQuantity(text, unit);
        expect(reading.ok ? Number.isFinite(reading.value) : reading.why.length > 0).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('writing quantities', () => {
  it.each<[number, Unit, string]>([
    [0.37, 'A', '370 mA'],
    [-0.04, 'V', '\u221240 mV'],
    [2.5e-9, 'H', '2.5 nH'],
    [1.5e-6, 's', '1.5 µs'],
    [100, 'ohm', '100 Ω'],
    [0.99996, 'V', '1 V'],
    [999.7, 'ohm', '1 kΩ'],
    [-0.005, '1/K', '\u22120.5 %/K'],
    [25, '°C', '25 °C'],
    [0, 's', '0 s'],
    [-0, 'V', '0 V'],
    [2e7, 'Hz', '20 MHz'],
    [1e-18, 'F', '0.001 fF'],
    [1500, 's', '1500 s'],
    [0.7654, '1', '0.765'],
    [Number.POSITIVE_INFINITY, 'V', 'unlimited'],
    [Number.NaN, 'V', 'not a number'],
  ])('shows %s %s as "%s"', (value, unit, text) => {
    expect(formatQuantity(value, unit)).toBe(text);
  });

  it('writes a text from which the very same double is read back, in every unit', () => {
    const units = (Object.keys(DIMENSIONS) as Unit[]).filter((unit) => unit !== '1');
    const values = fc.oneof(
      fc.double({ min: 1e-16, max: 1e9, noNaN: true }),
      fc.double({ min: -1e3, max: 1e3, noNaN: true }),
      fc
        .tuple(fc.integer({ min: -99_999, max: 99_999 }), fc.integer({ min: -15, max: 4 }))
        .map(([m, e]) => Number(`${m}e${e}`)),
    );
    fc.assert(
      fc.property(values, fc.constantFrom(...units), (value, unit) => {
        expect(parseQuantity(writeQuantity(value, unit), unit)).toBe(value + 0);
      }),
      { numRuns: 2000 },
    );
  });

  it('writes what a builder would type', () => {
    expect(writeQuantity(4e-8, 's')).toBe('40 ns');
    expect(writeQuantity(-0.005, '1/K')).toBe('-0.5 %/K');
    expect(writeQuantity(25, '°C')).toBe('25 degC');
    expect(writeQuantity(0, '1/K')).toBe('0 %/K');
  });
});

describe('a period', () => {
  it.each([
    ['4 us', 4e-6],
    ['250 kHz', 4e-6],
    ['0.25 MHz', 4e-6],
    ['250kHz', 4e-6],
    ['10 Hz', 0.1],
  ])('%s is %s s', (text, expected) => {
    expect(readPeriod(text)).toEqual({ ok: true, value: expected });
  });

  it.each(['0 Hz', '-5 kHz', '4 V', '250', '4 baHz', 'Hz', '1e-320 Hz'])('%s is refused', (text) => {
    expect(readPeriod(text).ok).toBe(false);
  });

  it('is a rate nowhere else: a rise of 10 MHz is no time', () => {
    expect(() => checkDesign({ drive: { x: { rise: '10 MHz' } } })).toThrow(/must be a time .*a frequency/u);
    expect(checkDesign({ cycle: { period: '250 kHz' } })).toEqual(checkDesign({ cycle: { period: '4 us' } }));
    expect(() => checkDesign({ cycle: { period: '5 Hz' } })).toThrow(
      'cycle.period must be a time from 20 ns to 100 ms, or a rate such as "250 kHz", but is "5 Hz", a period of 200 ms; choose at most 100 ms.',
    );
  });
});
