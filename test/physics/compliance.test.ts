/**
 * A current source that meets its compliance, or its clamp at turn-off. Independent routes: closed forms of
 * resistance and inductance, energy, the sum of the contributions, and the voltage source that a source at its limit is.
 */
import { describe, expect, it } from 'vitest';
import { wordDependence, type WordDependence } from '../../engine/channel/stack.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { mayReachLimit } from '../../engine/drive/line-voltage.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { design, idleWire, inductor, ns, run, type File } from './bench-designs.ts';
import { statedWires } from '../stated-wires.ts';
import { peakOf, splitError, valueAt } from './trace-tools.ts';

/** Row of 8 inductors of 1 nH on an idle wire; X reads with 400 mA behind `x`, rise and fall 40 ns, Y silent. */
const line = (x: File): File => ({
  mat: { rows: 1, columns: 8 },
  selected: { row: 0, column: 3, bit: 1 },
  core: inductor('1 nH'),
  ...idleWire,
  drive: { x: { readAmplitude: '400 mA', rise: '40 ns', fall: '40 ns', ...x } },
  programme: [{ row: 0, column: 3, lines: 'x', write: 'none' }],
});

const I = 0.4;
const SLOPE = I / (40 * ns);
/** The trailing edge starts 20 ns before the half-amplitude point at 520 ns. */
const OFF = 500 * ns;

/** Greatest difference of the read current from what is expected, relative to the amplitude, but for `near` kinks. */
function error(
  s: Simulation,
  expected: (t: number) => number,
  kinks: readonly number[],
  near: number,
): number {
  let most = 0;
  for (let k = 0; k < s.time.length; k++) {
    const t = s.time[k]!;
    if (kinks.some((kink) => Math.abs(t - kink) < near)) continue;
    most = Math.max(most, Math.abs(-s.currents.x[k]! - expected(t)));
  }
  return most / I;
}

const fine = { numerics: { output: '10 ns', step: '0.02 ns' } };

describe('a current source at its compliance', () => {
  // Derived. L dI/dt of the edge alone asks for 50 V: i = V/R (1 - exp(-t R/L)) until it reaches the programme.
  it('lets the current rise as its voltage does into resistance and inductance, then holds the programme', () => {
    const [R, L, V, clamp] = [2, 5.008e-6, 12, 20];
    const file = line({ resistance: '2 ohm', inductance: '5 uH', compliance: '12 V', clamp: '20 V' });
    const tau = L / R;
    const reached = -tau * Math.log1p((-I * R) / V);
    const dead = OFF + tau * Math.log(1 + (I * R) / clamp);
    const expected = (t: number): number => {
      if (t < reached) return (-V / R) * Math.expm1(-t / tau);
      if (t < OFF) return I;
      return t < dead ? (I + clamp / R) * Math.exp(-(t - OFF) / tau) - clamp / R : 0;
    };
    expect(reached).toBeGreaterThan(150 * ns);
    expect(dead - OFF).toBeGreaterThan(80 * ns);
    // The samples lie a nanosecond apart, and the trace is straight between them.
    expect(error(run(file), expected, [reached, dead], 1.5 * ns)).toBeLessThan(1e-3);
    expect(
      error(run({ ...file, ...fine }, { refine: 4, until: 600 * ns }), expected, [reached, dead], 11 * ns),
    ).toBeLessThan(1e-6);
    const held = run(file);
    expect(peakOf(held.time, held.currents.x, dead + 2 * ns).value).toBe(0);
  });

  // Derived: a run is followed to where it was asked to be, wherever the current lands on its last step.
  it('is followed to the end of the run where the current reaches its programme on the last step', () => {
    const file = line({ resistance: '0 ohm', inductance: '2 uH', compliance: '10 V' });
    const reached = (I * 2.008e-6) / 10;
    const ends = Array.from(
      { length: 80 },
      (_, k) => Math.round(reached / ns + k / 20 - 2) * ns + (k % 20) * 0.05 * ns,
    );
    for (const until of ends) {
      const { time } = run({ ...file, numerics: { output: '0.02 ns' } }, { until });
      expect(until - time.at(-1)!, `${until}`).toBeLessThan(0.021 * ns);
    }
  });

  // Derived: the ramp goes on until L dI/dt + R i = V, then i tends to V/R, which it keeps until the edge comes down.
  it('is limited in mid-edge, never reaches its programme, and follows it down', () => {
    const [R, L, V] = [20, 208e-9, 6];
    const file = line({ resistance: '20 ohm', inductance: '200 nH', compliance: '6 V' });
    const tau = L / R;
    const from = (V - L * SLOPE) / R / SLOPE;
    const expected = (t: number): number => {
      if (t < from) return SLOPE * t;
      const limited = V / R - (V / R - SLOPE * from) * Math.exp(-(t - from) / tau);
      return Math.min(limited, Math.max(0, I - SLOPE * (t - OFF)));
    };
    const met = OFF + (I - V / R) / SLOPE;
    expect(error(run(file), expected, [met], 1.5 * ns)).toBeLessThan(1e-3);
    expect(
      error(run({ ...file, ...fine }, { refine: 4, until: 600 * ns }), expected, [met], 11 * ns),
    ).toBeLessThan(2e-6);
  });

  // Derived: nothing in the line but inductance, so that V/L is the slope.
  it('bounds the slope of the edge by its voltage over the inductance', () => {
    const s = run(line({ resistance: '0 ohm', inductance: '2 uH', compliance: '10 V' }));
    const slope = (t: number): number => valueAt(s.time, s.currents.x, t) / t;
    for (const t of [20, 40, 60]) expect(slope(t * ns) / (-10 / 2.008e-6)).toBeCloseTo(1, 4);
  });

  // Derived: a voltage source with a resistor of next to nothing is what a source at its limit is.
  it('drives a mat that switches as a voltage of that size does, until the programme is reached', () => {
    const common = {
      mat: { rows: 8, columns: 8, mats: 8, otherOnes: 5 },
      selected: { row: 2, column: 3, bit: 1 },
    };
    const x = { inductance: '3 uH', resistance: '4 ohm' };
    const limited = run(
      { ...common, drive: { x: { ...x, readAmplitude: '370 mA', compliance: '7 V' } } },
      { until: 250 * ns },
    );
    const source = { kind: 'voltage', voltage: '7 V', resistance: '0.1 ohm' };
    const voltage = run(
      { ...common, drive: { x: { ...x, source, resistance: '3.9 ohm', rise: '1 ns' } } },
      { until: 250 * ns },
    );
    const reached = limited.time[limited.currents.x.findIndex((i) => -i >= 0.3699)]!;
    expect(reached).toBeGreaterThan(150 * ns);
    for (let t = 20; t < reached / ns - 5; t += 5) {
      // The other source has an edge of 1 ns, half of which it lags.
      const difference =
        valueAt(limited.time, limited.currents.x, t * ns) -
        valueAt(voltage.time, voltage.currents.x, (t + 0.5) * ns);
      expect(Math.abs(difference), `${t} ns`).toBeLessThan(2e-3 * 0.37);
    }
  });

  it('closes its energy, its flux and its contributions, with mats in series and a switching word', () => {
    for (const [mats, compliance] of [
      [1, '3 V'],
      [6, '4 V'],
    ] as const) {
      const drive = { compliance, inductance: '500 nH', clamp: '8 V' };
      const s = run({
        mat: { rows: 8, columns: 8, mats, otherOnes: mats - 1 },
        drive: { x: drive, y: drive },
      });
      expect(mayReachLimit(s.design, 'x')).toBe(true);
      expect(Math.abs(s.energy.residual)).toBeLessThan(1e-3 * s.energy.delivered);
      expect(splitError(s)).toBeLessThan(1e-9);
      expect(s.fluxClosure).toBeLessThan(1e-3);
      expect(valueAt(s.time, s.selected.state, 480 * ns)).toBeLessThan(-2e-9);
      expect(s.selected.state.at(-1)!).toBeGreaterThan(2e-9);
    }
  });

  // N3: the instant at which a limit is met lies on no step of its own, so it is an edge like any other.
  it('is within what a run may be wrong, at its kinks and between them, and settles with the step', () => {
    const drive = { compliance: '3 V', inductance: '500 nH' };
    const file = statedWires({
      mat: { rows: 4, columns: 4 },
      selected: { row: 1, column: 1, bit: 1 },
      drive: { x: drive, y: drive },
    });
    const at = (refine: number): Simulation => run(file, { refine, until: 480 * ns });
    const exact = at(16);
    const peak = Math.max(...exact.senseVoltage.map(Math.abs));
    const off = (refine: number, from: number): number =>
      at(refine).senseVoltage.reduce(
        (most, u, k) => (k < from ? most : Math.max(most, Math.abs(u - exact.senseVoltage[k]!))),
        0,
      );
    expect(off(1, 0)).toBeLessThan(5e-3 * peak);
    expect(off(1, 25)).toBeLessThan(1e-3 * peak);
    // First order at least in three halvings: what the instant of meeting the limit costs.
    expect(off(8, 25)).toBeLessThan(off(1, 25) / 8);
    expect(off(8, 0)).toBeLessThan(1e-4 * peak);
  });

  it('lets the other bits of a word slow the line, as a voltage does, and not where it is out of reach', () => {
    const words = (compliance: string): WordDependence => {
      const drive = { compliance, inductance: '500 nH' };
      return wordDependence(
        design({ mat: { rows: 4, columns: 4, mats: 8 }, drive: { x: drive, y: drive } }),
        simulate,
      );
    };
    const limited = words('1.2 V');
    expect(limited.fixed).toBe(false);
    expect(limited.current.at(-1)!).toBeLessThan(limited.current[0]! - 1e-3);
    expect(words('50 V').fixed).toBe(true);
  });

  it('changes nothing where it is out of reach: the same bytes, whatever its value', () => {
    const file = (compliance: string): File => ({
      mat: { rows: 8, columns: 8 },
      drive: { x: { compliance }, y: { compliance } },
    });
    const [high, higher] = [design(file('24 V')), design(file('1 kV'))];
    expect(mayReachLimit(high, 'x') || mayReachLimit(high, 'y')).toBe(false);
    expect(simulate(high).senseVoltage).toEqual(simulate(higher).senseVoltage);
  });

  // The bound by which a design is run without limits must hold: those it lets through never ask for more.
  it('is looked for wherever it may be met: a compliance just under the need of the bare edge is', () => {
    const x = {
      inductance: '2 uH',
      resistance: '0 ohm',
      readAmplitude: '400 mA',
      rise: '40 ns',
      fall: '40 ns',
    };
    const need = 2.008e-6 * SLOPE;
    expect(mayReachLimit(design(line({ ...x, compliance: `${need * 0.999} V` })), 'x')).toBe(true);
    expect(mayReachLimit(design(line({ ...x, compliance: '500 V', clamp: `${need * 0.999} V` })), 'x')).toBe(
      true,
    );
    expect(mayReachLimit(design(line({ ...x, compliance: '500 V', clamp: '500 V' })), 'x')).toBe(false);
    expect(
      mayReachLimit(
        checkDesign({ drive: { x: { source: { kind: 'voltage', voltage: '9 V', resistance: '20 ohm' } } } }),
        'x',
      ),
    ).toBe(false);
  });
});
