/**
 * The wire as a line. Independent routes: travelling waves on a line of known impedance and delay against the ladder
 * run by the engine. All cores are inductors; Y alone is driven, so that the EMF sits at one core.
 */
import { describe, expect, it } from 'vitest';
import type { SimulateOptions, Simulation } from '../../engine/solver/result.ts';
import { inductor, ns, run } from './bench-designs.ts';
import { valueAt } from './trace-tools.ts';

const CORES = 128;
/** 9 nH of wire and 1 nH of core a pitch beside 1 pF: 100 ohm, 0.1 ns a core. */
const Z0 = Math.sqrt(10e-9 / 1e-12);
const PITCH = Math.sqrt(10e-9 * 1e-12);
const DELAY = CORES * PITCH;
/** A ramp of 600 mA in 60 ns through 1 nH: the EMF is a step of 10 mV. */
const EMF = (1e-9 * 0.6) / (60 * ns);

const struck = (
  column: number,
  ends: { a: string; b: string },
  more: object = {},
  options: SimulateOptions = { contributions: false, until: 55 * ns },
): Simulation =>
  run(
    {
      mat: { rows: 1, columns: CORES },
      selected: { row: 0, column, bit: 0 },
      core: inductor('1 nH'),
      wire: {
        resistancePerCore: '0 ohm',
        inductancePerCore: '9 nH',
        capacitancePerCore: '1 pF',
        lossTime: '0 ns',
        mutualX: '0 H',
        mutualY: '0 H',
        couplingCapacitance: '0 F',
      },
      terminations: ends,
      amplifier: { inputResistance: '100 Mohm' },
      drive: { x: {}, y: { readAmplitude: '600 mA', rise: '60 ns', fall: '60 ns' } },
      programme: [{ row: 0, column, lines: 'y', write: 'none' }],
      cycle: { readWidth: '80 ns', gap: '120 ns', writeWidth: '80 ns', period: '500 ns' },
      numerics: { sections: CORES, output: '50 ps', step: '50 ps' },
      ...more,
    },
    options,
  );
const matched = { a: `${Z0} ohm`, b: `${Z0} ohm` };
const endA = (s: Simulation): Float64Array => s.commonMode.map((v, i) => v - s.senseVoltage[i]! / 2);
const endB = (s: Simulation): Float64Array => s.commonMode.map((v, i) => v + s.senseVoltage[i]! / 2);

/** When a trace first passes the level on its way from `from` to `to`, s. */
function passes(time: Float64Array, values: Float64Array, from: number, to: number, after = 0): number {
  const level = (from + to) / 2;
  const sign = Math.sign(to - from);
  for (let i = 1; i < time.length; i++)
    if (time[i]! > after && sign * (values[i]! - level) >= 0 && sign * (values[i - 1]! - level) < 0)
      return (
        time[i - 1]! + ((level - values[i - 1]!) / (values[i]! - values[i - 1]!)) * (time[i]! - time[i - 1]!)
      );
  return Number.NaN;
}
function meanOver(time: Float64Array, values: Float64Array, from: number, to: number): number {
  const within = values.filter((_, i) => time[i]! >= from && time[i]! < to);
  return within.reduce((sum, v) => sum + v, 0) / within.length;
}
/** One section's delay and one step. */
const SLACK = PITCH + 0.05 * ns;

describe('a wire matched at both ends', () => {
  // L1: Koehler, IBM Technical Disclosure Bulletin, March 1968; derived.
  it('gives half the EMF at each end, and the difference recovers it', () => {
    const s = struck(40, matched);
    const t = 40 * ns;
    expect(Math.abs(valueAt(s.time, endB(s), t) / (EMF / 2) - 1)).toBeLessThan(0.01);
    expect(Math.abs(valueAt(s.time, endA(s), t) / (-EMF / 2) - 1)).toBeLessThan(0.01);
    expect(Math.abs(valueAt(s.time, s.senseVoltage, t) / EMF - 1)).toBeLessThan(0.01);
  });

  // L2: derived.
  it.each([20, 64, 100])('hears core %i after the delay of its way to either end', (column) => {
    const s = struck(column, matched);
    const x = (column + 0.5) / CORES;
    expect(Math.abs(passes(s.time, endA(s), 0, -EMF / 2) - x * DELAY)).toBeLessThan(SLACK);
    expect(Math.abs(passes(s.time, endB(s), 0, EMF / 2) - (1 - x) * DELAY)).toBeLessThan(SLACK);
  });

  // L4: derived. The plateau before any echo is EMF R/(R + Z0).
  it('has the impedance and the delay of its inductance and capacitance, ferrite included', () => {
    const R = 50;
    const s = struck(100, { a: `${R} ohm`, b: `${Z0} ohm` });
    // After the front has settled at end A and before its echo has run to B and back: in the mean over six periods in
    // which the ladder rings at its cut-off, above which it is no line.
    const arrived = (100.5 / CORES) * DELAY;
    const plateau = -meanOver(s.time, endA(s), arrived + 5 * ns, arrived + 7 * ns);
    const measured = R * (EMF / plateau - 1);
    expect(Math.abs(measured / Z0 - 1)).toBeLessThan(0.01);
    const far = passes(s.time, endA(s), 0, -plateau);
    const close = struck(20, matched);
    const near = passes(close.time, endA(close), 0, -EMF / 2);
    expect(Math.abs((far - near) / (80 * PITCH) - 1)).toBeLessThan(0.01);
  });
});

describe('a wire matched at end A', () => {
  // L3: derived.
  it.each([
    ['short', 'doubles', -EMF],
    ['open', 'cancels', 0],
  ] as const)('with the far end %s hears the echo, which %s the signal, at (2 - x) T', (b, _, after) => {
    const column = 40;
    const s = struck(column, { a: matched.a, b });
    const x = (column + 0.5) / CORES;
    const v = endA(s);
    const first = passes(s.time, v, 0, -EMF / 2);
    expect(Math.abs(first - x * DELAY)).toBeLessThan(SLACK);
    const echo = passes(s.time, v, -EMF / 2, after, x * DELAY + 2 * ns);
    // The front has run one and a half times the wire by then.
    expect(Math.abs(echo - (2 - x) * DELAY)).toBeLessThan(SLACK);
    expect(Math.abs(valueAt(s.time, v, 50 * ns) - after)).toBeLessThan(0.01 * EMF);
  });
});

describe('energy', () => {
  // L6: derived.
  it.each([
    ['matched', matched],
    ['shorted', { a: 'short', b: 'short' }],
    ['open', { a: matched.a, b: 'open' }],
  ] as const)('of a %s line driven by a ramp closes within a thousandth', (_, ends) => {
    const s = struck(40, ends, { numerics: { sections: 64 } }, { contributions: false });
    expect(Math.abs(s.energy.residual)).toBeLessThan(1e-3 * s.energy.delivered);
  });
});
