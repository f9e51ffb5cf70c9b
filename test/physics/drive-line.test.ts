/**
 * A drive line behind a voltage source. Independent routes: the closed form of resistance and inductance driven by a
 * ramp, and of a clamp that takes the current down, against the engine's line; Ohm's law against the droop that
 * switching cores cause; energy.
 */
import { describe, expect, it } from 'vitest';
import type { Simulation } from '../../engine/solver/result.ts';
import { idleWire, inductor, ns, run, type File } from './bench-designs.ts';
import { peakOf, splitError, valueAt } from './trace-tools.ts';

/** Row of 8 inductors of 1 nH on an idle wire, X behind 20 V and 52 ohm, Y silent. */
const line = (inductance: string, clamp: string): File => ({
  mat: { rows: 1, columns: 8 },
  selected: { row: 0, column: 3, bit: 1 },
  core: inductor('1 nH'),
  ...idleWire,
  drive: {
    x: {
      source: { kind: 'voltage', voltage: '20 V', resistance: '50 ohm' },
      resistance: '2 ohm',
      inductance,
      clamp,
      rise: '40 ns',
      fall: '40 ns',
    },
  },
  programme: [{ row: 0, column: 3, lines: 'x', write: 'none' }],
});

/** Magnitude of the current of L and R under a ramp of `rise` to E that starts at 0, then held. */
function ramped(E: number, R: number, L: number, rise: number, t: number): number {
  const tau = L / R;
  const ramp = (s: number): number => (s <= 0 ? 0 : (E / R / rise) * (s + tau * Math.expm1(-s / tau)));
  return ramp(t) - ramp(t - rise);
}

const R = 52;

describe('a voltage-driven line', () => {
  // N2; derived. Inductance of the line and of its eight cores.
  it.each([
    ['200 nH', 208e-9],
    ['5 uH', 5.008e-6],
  ])('with %s rises as resistance and inductance do', (inductance, L) => {
    const error = (s: Simulation): number => {
      let most = 0;
      for (let i = 0; i < s.time.length; i++)
        if (s.time[i]! < 480 * ns)
          most = Math.max(most, Math.abs(-s.currents.x[i]! - ramped(20, R, L, 40 * ns, s.time[i]!)));
      return most / (20 / R);
    };
    const file = line(inductance, '30 V');
    expect(error(run(file))).toBeLessThan(1e-3);
    const fine = { numerics: { output: '10 ns', step: '0.02 ns' } };
    expect(error(run({ ...file, ...fine }, { until: 480 * ns, refine: 8 }))).toBeLessThan(1e-6);
  });

  // Derived: after the fall the switch opens, and i = (i0 + V/R) exp(-t R/L) - V/R until it is zero.
  it('is taken down by its clamp as a voltage against resistance and inductance does, and then stays open', () => {
    const [L, V] = [5.008e-6, 12];
    const s = run(line('5 uH', `${V} V`));
    // The read lasts from 0 to 40 ns after its half-amplitude point at 520 ns less 20 ns.
    const open = 540 * ns;
    const held = (t: number): number =>
      ramped(20, R, L, 40 * ns, t) - ramped(20, R, L, 40 * ns, t - 500 * ns);
    const i0 = held(open);
    const tau = L / R;
    const dead = open + tau * Math.log(1 + (i0 * R) / V);
    for (let i = 0; i < s.time.length; i++) {
      const t = s.time[i]!;
      const expected = t < open ? held(t) : t < dead ? (i0 + V / R) * Math.exp(-(t - open) / tau) - V / R : 0;
      // One step of a nanosecond about the instant at which the current dies.
      const slack = Math.abs(t - dead) < 2 * ns ? ((V / L) * 2 * ns) / (20 / R) : 1e-3;
      expect(Math.abs(-s.currents.x[i]! - expected) / (20 / R), `${t}`).toBeLessThan(slack);
    }
    expect(dead - open).toBeGreaterThan(50 * ns);
    expect(peakOf(s.time, s.currents.x, dead + 2 * ns).value).toBe(0);
  });

  // D1: Toernquist, Elteknik 2 (1959) pp. 97-98; derived.
  it('droops in proportion to the switching cores and inversely to its resistance', () => {
    const droop = (switching: number, volts: number, ohms: number): number => {
      const source = { kind: 'voltage', voltage: `${volts} V`, resistance: `${ohms} ohm` };
      const drive = { source, resistance: '0 ohm', inductance: '20 nH' };
      const s = run(
        {
          mat: { rows: 4, columns: 4, mats: 8, otherOnes: switching - 1 },
          selected: { row: 1, column: 1, bit: 1 },
          stored: { kind: 'zeros' },
          ...idleWire,
          drive: { x: drive, y: drive },
        },
        { until: 480 * ns },
      );
      const settled = volts / ohms;
      const dip = s.currents.x.map((i, k) => (s.time[k]! > 60 * ns ? settled - Math.abs(i) : 0));
      return peakOf(s.time, dip).value;
    };
    const one = droop(1, 200, 540);
    expect(one).toBeGreaterThan(0);
    for (const p of [2, 4, 8]) expect(Math.abs(droop(p, 200, 540) / (p * one) - 1)).toBeLessThan(0.02);
    expect(Math.abs(droop(4, 400, 1080) / droop(4, 200, 540) / 0.5 - 1)).toBeLessThan(0.02);
    // The dip is the cores' EMF over the resistance.
    const emf = run({
      mat: { rows: 4, columns: 4 },
      selected: { row: 1, column: 1, bit: 1 },
      stored: { kind: 'zeros' },
      ...idleWire,
    });
    const peak = peakOf(emf.time, emf.contributions!.selectedCore, 50 * ns, 480 * ns).value;
    expect(Math.abs(one / (peak / 540) - 1)).toBeLessThan(0.03);
  });

  it('switches its cores, closes its energy and is taken apart by cause to rounding', () => {
    for (const mats of [1, 6]) {
      const source = { kind: 'voltage', voltage: '20 V', resistance: '53 ohm' };
      const s = run({
        mat: { rows: 8, columns: 8, mats, otherOnes: mats - 1 },
        drive: { x: { source }, y: { source } },
      });
      expect(Math.abs(s.energy.residual)).toBeLessThan(1e-3 * s.energy.delivered);
      expect(splitError(s)).toBeLessThan(1e-9);
      expect(s.fluxClosure).toBeLessThan(1e-3);
      expect(valueAt(s.time, s.selected.state, 480 * ns)).toBeLessThan(-2e-9);
      expect(s.selected.state.at(-1)!).toBeGreaterThan(2e-9);
    }
  });

  // Derived: each mat's inhibit follows its own bit, so the write of a ONE here must leave the ZEROs there alone.
  it('spends no more on a write when the other mats keep their ZEROs than the half-selected cores take', () => {
    const spent = (otherOnes: number): number => {
      const source = { kind: 'voltage', voltage: '20 V', resistance: '53 ohm' };
      const s = run({
        mat: { rows: 4, columns: 4, mats: 4, otherOnes },
        selected: { row: 1, column: 1, bit: 1 },
        stored: { kind: 'zeros' },
        drive: { x: { source }, y: { source } },
      });
      return s.energy.cores;
    };
    // Three more ONEs are read and written: three more cores are taken round their loops.
    const per = (spent(3) - spent(0)) / 3;
    expect(per).toBeGreaterThan(0);
    expect(Math.abs((spent(1) - spent(0)) / per - 1)).toBeLessThan(0.02);
    expect(spent(0)).toBeLessThan(2.5 * per);
  });
});
