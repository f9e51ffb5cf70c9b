import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { cycleProgramme, pulseValue } from '../../../engine/drive/programme.ts';
import { accessTime, buildNumbers } from '../../../engine/estimates/build-numbers.ts';
import { shortestCycle } from '../../../engine/estimates/cycle-limits.ts';
import { driversWithInhibit, driversWithoutInhibit } from '../../../engine/estimates/driver-counts.ts';
import { estimateRecovery, recoveryTimeConstants } from '../../../engine/estimates/recovery.ts';
import { cycleCharge, supplyCurrent } from '../../../engine/estimates/supply-needs.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';

describe('drivers', () => {
  it('are 24 for an 8 x 8 x 8 stack with inhibit against 128 without (common practice, no source)', () => {
    expect(driversWithInhibit(8, 8, 8)).toBe(24);
    expect(driversWithoutInhibit(8, 8, 8)).toBe(128);
  });

  it('are 256 for a 16 x 16 x 8 stack without inhibit (common practice, no source)', () => {
    expect(driversWithoutInhibit(16, 16, 8)).toBe(256);
  });
});

describe('access', () => {
  it('S1: takes three equal steps: 15 and 24 us at turnovers of 5 and 8 us (Rajchman, RCA Review, June 1952, in a digest)', () => {
    expect(accessTime(5e-6)).toBeCloseTo(15e-6, 15);
    expect(accessTime(8e-6)).toBeCloseTo(24e-6, 15);
    // Of a design: the core's own switching time, here off a run with edges that are next to a step.
    const edge = { rise: '1 ns', fall: '1 ns' };
    const design = checkDesign({ drive: { x: edge, y: edge, inhibit: edge } });
    const { time, contributions } = simulate(design, { estimateError: false });
    const read = contributions!.selectedCore.map((u, i) =>
      time[i]! > 20e-9 && time[i]! < 480e-9 ? Math.abs(u) : 0,
    );
    const peak = Math.max(...read);
    const fallen = time[read.findLastIndex((u) => u > 0.1 * peak)]!;
    expect(buildNumbers(design).access / (3 * fallen)).toBeCloseTo(1, 1);
  });
});

describe('recovery', () => {
  it('I2: from 340 mV to 5 mV takes 4.22 time constants (derived)', () => {
    expect(recoveryTimeConstants(0.34, 0.005) / 4.22).toBeCloseTo(1, 2);
    expect(Math.exp(-recoveryTimeConstants(0.34, 0.005)) * 0.34).toBeCloseTo(0.005, 12);
    expect(recoveryTimeConstants(0.004, 0.005)).toBe(0);
  });

  it('of a wire between low terminations is L over R, from I times R (derived)', () => {
    const raw = {
      mat: { rows: 8, columns: 8 },
      wire: { resistancePerCore: '0 ohm', inductancePerCore: '1 nH' },
      terminations: { a: '20 ohm', b: '20 ohm' },
      amplifier: { inputResistance: '100 Mohm', inputClamp: 'none' },
    };
    const recovery = estimateRecovery(checkDesign(raw));
    expect(recovery.timeConstant).toBeCloseTo((64 * (1e-9 + 0.85e-9)) / 40, 13);
    expect(recovery.start).toBeCloseTo(0.34 * 40, 4);
    expect(recovery.target).toBeCloseTo(0.05 * 0.018, 12);
  });

  it('takes longer on a larger mat, with a lower threshold, and with an amplifier that recovers slowly', () => {
    const time = (raw: object): number => estimateRecovery(checkDesign(raw)).time;
    const base = time({});
    expect(time({ mat: { rows: 32, columns: 32 } })).toBeGreaterThan(base);
    expect(time({ detector: { threshold: '2 mV' } })).toBeGreaterThan(base);
    const quick = time({ amplifier: { recovery: '0 ns' } });
    expect(time({ amplifier: { recovery: '300 ns' } })).toBeCloseTo(quick + 300e-9, 15);
  });

  it('rings longer between ends far above the impedance of the wire', () => {
    const tau = (a: string): number =>
      estimateRecovery(
        checkDesign({
          mat: { rows: 32, columns: 32 },
          wire: { resistancePerCore: '0 ohm' },
          terminations: { a, b: a },
        }),
      ).timeConstant;
    expect(tau('5 kohm')).toBeGreaterThan(tau('150 ohm'));
    expect(tau('5 ohm')).toBeGreaterThan(tau('150 ohm'));
  });

  it('makes the shortest cycle longer than the programme itself', () => {
    const design = checkDesign({ mat: { rows: 64, columns: 64 } });
    expect(shortestCycle(design)).toBeGreaterThan(1.58e-6);
    expect(buildNumbers(design).highestRate).toBeCloseTo(1 / shortestCycle(design), 3);
  });
});

describe('supply', () => {
  it('charge of a cycle is the area of its pulses, integrated', () => {
    const design = checkDesign({
      drive: { x: { edge: { kind: 'raised-cosine' }, fall: '90 ns' } },
      cycle: { stagger: '30 ns' },
    });
    const zero = { ...design.selected, lines: 'both', read: true, write: 'zero' } as const;
    const { x, y, inhibit } = cycleProgramme(design, zero, true);
    const area = { lines: 0, inhibit: 0 };
    const h = 0.05e-9;
    for (let t = h / 2; t < design.cycle.period; t += h) {
      area.lines += h * (Math.abs(pulseValue(x, t)) + Math.abs(pulseValue(y, t)));
      area.inhibit += h * pulseValue(inhibit, t);
    }
    const charge = cycleCharge(design, 1);
    expect(charge.lines / area.lines).toBeCloseTo(1, 5);
    expect(charge.inhibit / area.inhibit).toBeCloseTo(1, 5);
    expect(charge.total).toBeCloseTo(charge.lines + charge.inhibit + charge.fixed, 15);
  });

  it('fires two inhibit wires where there are two halves', () => {
    const one = cycleCharge(checkDesign({}), 1);
    const two = cycleCharge(checkDesign({ winding: { kind: 'shared-two-halves' } }), 1);
    expect(two.inhibit).toBeCloseTo(2 * one.inhibit, 15);
  });

  // A one-address rig with one inhibit pulse a cycle: common practice, no source. 44, 150 and 250 mA at 2, 50 and
  // 100 kHz, about 20 mA less without inhibit at the two higher rates; 1.5 A for eight mats with all bits ZERO.
  const rig = checkDesign({ supply: { quiescent: '40 mA', chargePerCycle: '1.15 uC' } });
  const rates = [2e3, 50e3, 100e3];

  it('of the rig is a straight line in rate within 5 %', () => {
    const measured = [0.044, 0.15, 0.25];
    rates.forEach((rate, i) =>
      expect(Math.abs(supplyCurrent(rig, rate, 1) / measured[i] - 1)).toBeLessThan(0.05),
    );
    const [a, b, c] = rates.map((rate) => supplyCurrent(rig, rate, 1));
    expect((b - a) / 48e3).toBeCloseTo((c - b) / 50e3, 15);
  });

  it('of the rig owes about 20 mA to the inhibit at 100 kHz, from the charge of its pulse', () => {
    const share = supplyCurrent(rig, 100e3, 1) - supplyCurrent(rig, 100e3, 0);
    expect(share).toBeCloseTo(100e3 * 0.34 * 620e-9, 12);
    expect(share).toBeGreaterThan(0.015);
    expect(share).toBeLessThan(0.025);
  });

  it('of the full stack with all bits ZERO stays under its budget at 100 kHz', () => {
    const stack = checkDesign({
      mat: { mats: 8 },
      supply: { quiescent: '40 mA', chargePerCycle: '1.15 uC', budget: '1.5 A' },
    });
    expect(supplyCurrent(stack, 100e3)).toBeGreaterThan(supplyCurrent(stack, 100e3, 4));
    expect(supplyCurrent(stack, 100e3)).toBeLessThan(stack.supply.budget);
  });
});
