/** Volts and watts of the drivers, against sums done by hand beside each test, another integrator, and a coupled run. */
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { inhibitWire, riseVoltage } from '../../../engine/drive/inhibit-wire.ts';
import { buildNumbers } from '../../../engine/estimates/build-numbers.ts';
import { cycleLimits } from '../../../engine/estimates/cycle-limits.ts';
import { driveNeeds } from '../../../engine/estimates/drive-needs.ts';
import { driverCounts } from '../../../engine/estimates/driver-counts.ts';
import { supplyCurrent } from '../../../engine/estimates/supply-needs.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';

/** 370 mA with 50 ns edges; every value that the sums use is stated. 20/12/5 mil: 1 nH a core toward the knee. */
const at = (side: number, mats: number, ends: string): Parameters<typeof driveNeeds>[0] =>
  checkDesign({
    core: { parameters: { elasticKnee: '1 nH', remanentFlux: '2.7 nWb' } },
    mat: { rows: side, columns: side, mats },
    wire: { resistancePerCore: '20 mohm', inductancePerCore: '1 nH', diameter: '0.08 mm' },
    terminations: { a: ends, b: ends },
    drive: {
      x: { readAmplitude: '370 mA', rise: '50 ns', fall: '50 ns', inductance: '200 nH', resistance: '1 ohm' },
      y: { readAmplitude: '370 mA', rise: '50 ns', fall: '50 ns', inductance: '200 nH', resistance: '1 ohm' },
      inhibit: { amplitude: '340 mA', rise: '50 ns', fall: '50 ns', lead: '60 ns', lag: '60 ns' },
    },
    cycle: { period: '3 us', readWidth: '500 ns', gap: '500 ns', writeWidth: '500 ns' },
    supply: { voltage: '20 V' },
  });

describe('drivers of an 8 x 8 at 370 mA with 50 ns edges, by hand', () => {
  const [x, , inhibit] = driveNeeds(at(8, 1, 'open'));

  it('give 1.91 V to a line of 208 nH and 1 ohm', () => {
    // 200 nH + 8 times 1 nH; 208 nH * 370 mA / 50 ns = 1.5392 V, and 0.37 V in the resistance.
    expect(x.onEdge).toBeCloseTo(1.5392 + 0.37, 9);
    expect(x.kick).toBeCloseTo(1.5392, 9);
  });

  it('take 2.47 W from 20 V, of which the line warms with 46 mW and its core with 1.3 mW', () => {
    // 370 mA for 1 us of 3 us: 123.3 mA. 1 ohm * (370 mA)^2 / 3. 2 * 2.7 nWb * 740 mA / 3 us. 208 nH * (370 mA)^2 / 3 us.
    expect(x.power.supply).toBeCloseTo((20 * 0.37) / 3, 9);
    expect(x.power.wire).toBeCloseTo(0.1369 / 3, 9);
    expect(x.power.cores).toBeCloseTo(1.332e-3, 9);
    expect(x.power.clamp).toBeCloseTo(9.4917e-3, 6);
    expect(x.power.driver).toBeCloseTo(2.46667 - 0.04563 - 0.00133 - 0.00949, 4);
  });

  it('give 1.31 V to the inhibit wire of 128 nH and 1.28 ohm', () => {
    // 64 times 2 nH and 20 mohm: 128 nH * 340 mA / 50 ns = 0.8704 V, and 0.4352 V. Inputs of 10 kohm hardly load it.
    expect(inhibit.onEdge).toBeCloseTo(1.3056, 3);
    expect(inhibit.onTop).toBeCloseTo(0.4352, 3);
    // 340 mA for 500 + 60 + 60 ns of 3 us from 20 V.
    expect(inhibit.power.supply).toBeCloseTo((20 * 0.34 * 0.62) / 3, 9);
    expect(inhibit.power.wire).toBeCloseTo((0.4352 * 0.34 * 0.62) / 3, 4);
  });
});

describe('drivers of a 64 x 64 by hand', () => {
  it('give 9.43 V to a line through 16 mats of 64 cores', () => {
    // 200 nH + 1024 nH; 1.224 uH * 370 mA / 50 ns = 9.0576 V, and 0.37 V.
    expect(driveNeeds(at(64, 16, 'open'))[0].onEdge).toBeCloseTo(9.4276, 9);
  });

  it('give 83.6 V to an inhibit wire of 8.19 uH and 82 ohm, and 42.5 V where its terminations of 198 ohm help', () => {
    // 4096 times 2 nH and 20 mohm; 55.7056 V and 27.8528 V. With 198.02 ohm across it the wire lags by
    // 8.192 uH / 279.94 ohm = 29.263 ns: 198.02 ohm * 6.8 A/us * (50 ns - 0.70737 * 26.037 ns) = 42.53 V.
    const bare = { wires: 1, inductance: 8.192e-6, resistance: 81.92, shunt: Infinity, nodeShare: 1 };
    expect(riseVoltage(bare, 6.8e6, 50e-9)).toBeCloseTo(55.7056 + 27.8528, 9);
    expect(driveNeeds(at(64, 1, '100 ohm'))[2].onEdge).toBeCloseTo(42.53, 1);
  });
});

describe('the voltage across an inhibit wire', () => {
  it('is what stepping its equation gives', () => {
    const wire = inhibitWire(at(64, 1, '100 ohm'));
    const [slope, end, steps] = [6.8e6, 50e-9, 100_000];
    let current = 0;
    for (let n = 0; n < steps; n++) {
      const total = (slope * end * (n + 0.5)) / steps;
      current +=
        ((wire.shunt * (total - current) - wire.resistance * current) / wire.inductance) * (end / steps);
    }
    expect(wire.shunt * (slope * end - current)).toBeCloseTo(riseVoltage(wire, slope, end), 2);
  });

  it.each([16, 64])('is that of a coupled run of %i square within 10 %', (side) => {
    const design = { ...at(side, 1, '100 ohm'), selected: { row: 0, column: 0, bit: 0 } } as const;
    const write = { row: 0, column: 0, lines: 'both', read: true, write: 'zero' } as const;
    const run = simulate(
      { ...design, stored: { kind: 'ones', seed: 1, complement: false }, programme: [write] },
      { estimateError: false, contributions: false },
    );
    const late = run.senseVoltage.filter((_, i) => run.time[i] > 0.9e-6);
    const peak = Math.max(...late.map(Math.abs));
    expect(peak / driveNeeds(design)[2].needed).toBeGreaterThan(0.9);
    expect(peak / driveNeeds(design)[2].needed).toBeLessThan(1.1);
  });

  it('of two halves is that of one half, driven together', () => {
    const halves = { ...at(16, 1, 'open'), winding: { kind: 'shared-two-halves', segments: 1 } } as const;
    const [, , one] = driveNeeds(at(16, 1, 'open'));
    const [, , two] = driveNeeds(halves);
    expect(two.onEdge / one.onEdge).toBeCloseTo(0.5, 2);
    expect(two.current).toBeCloseTo(2 * one.current, 12);
  });
});

describe('the shortest cycle', () => {
  const design = checkDesign({ mat: { rows: 16, columns: 16, mats: 12 }, supply: { budget: '1.5 A' } });

  it('is one that the supply allows: at it the current is the budget', () => {
    const limits = cycleLimits(design);
    expect(limits.setBy).toBe('supply');
    expect(limits.shortest).toBeGreaterThan(limits.timing);
    expect(supplyCurrent(design, 1 / limits.shortest)).toBeCloseTo(1.5, 9);
    expect(buildNumbers(design).supplyCurrent.atHighestRate).toBeCloseTo(1.5, 9);
  });

  it("holds the machine's own time too", () => {
    const cycle = (overhead: string) => cycleLimits(checkDesign({ cycle: { overhead } }));
    expect(cycle('300 ns').timing - cycle('0 ns').timing).toBeCloseTo(300e-9, 15);
    expect(cycle('300 ns').shortest).toBe(cycle('300 ns').timing);
  });

  it('is none where the supply cannot even feed what is drawn at rest', () => {
    const starved = checkDesign({ supply: { quiescent: '1 A', budget: '0.5 A' } });
    expect(cycleLimits(starved).shortest).toBe(Infinity);
    expect(buildNumbers(starved).highestRate).toBe(0);
  });
});

describe('counts of drivers (common practice, no source; sums derived)', () => {
  it('64 + 64 lines and 12 mats: 268 switches directly, 76 in a matrix of 8 by 8, fewer behind transformers', () => {
    const counts = driverCounts(64, 64, 12);
    expect(counts.direct).toEqual({ switches: 268, diodes: 0, transformers: 0 });
    // 2 (8 + 8) for X and for Y; two diodes a line.
    expect(counts.diodeMatrix).toEqual({ switches: 2 * 32 + 12, diodes: 256, transformers: 0 });
    // 11 middles and 2 times 6 ends: 23 for X and for Y.
    expect(counts.transformerMatrix).toEqual({ switches: 2 * 23 + 12, diodes: 256, transformers: 128 });
  });
});
