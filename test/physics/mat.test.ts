/**
 * The mat on real runs. Independent routes: what every core of the winding gives by the elastic formula, summed by
 * hand, against the coupled run on an idle wire; M dI/dt against a mat without cores; a run with stagger or another
 * temperature against one without; linkage of the selected core against the integral of its share of the signal.
 */
import { describe, expect, it } from 'vitest';
import { elasticSlope } from '../../engine/core/model.ts';
import type { WindingKind } from '../../engine/design/mat.ts';
import { worstPattern } from '../../engine/mat/stored-pattern.ts';
import { polarityOf } from '../../engine/mat/winding.ts';
import { expectedPeak } from '../../engine/simulate/simulate.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { referParts } from '../../engine/strobe/parts.ts';
import { design, drives, idleWire, inductor, noCores, ns, run, type File } from './bench-designs.ts';
import { area, difference, peakOf, splitError, valueAt } from './trace-tools.ts';

const KINDS: readonly WindingKind[] = [
  'shared-one-run',
  'shared-two-halves',
  'separate-diagonal',
  'separate-rectangular',
];
const square = (n: number): File => ({
  mat: { rows: n, columns: n },
  selected: { row: 1, column: 2, bit: 1 },
});

const noiseOf = (s: Simulation, from: number, to: number): { value: number; time: number } => {
  const c = s.contributions!;
  const sum = s.time.map(
    (_, i) => c.directCoupling[i]! + c.halfSelectedReversible[i]! + c.halfSelectedIrreversible[i]!,
  );
  return peakOf(s.time, sum, from, to);
};

describe('half-selected cores on real runs', () => {
  // P1 and P4: derived; the counts agree with US 3,646,531 (as reported by a digest), the patterns with MIT memo
  // M-2919 (1954, abstract read).
  it('the half-spread over the worst pattern and its complement is 7 differences on an 8 square, whatever the winding', () => {
    const t = 25 * ns;
    for (const kind of KINDS) {
      const file = { ...square(8), ...idleWire, drive: drives('370 mA', '50 ns'), winding: { kind } };
      const d = design(file);
      const own = worstPattern(d, 'one');
      const sum = (bits: Uint8Array): number => {
        const s = run(file, { bits });
        return valueAt(s.time, s.contributions!.halfSelectedReversible, t);
      };
      // A half-selected core sees half the ramp; read is negative, the signal of s = +1 positive.
      const slope = -0.37 / (50 * ns);
      const answer = (p: number): number =>
        -slope * elasticSlope(d.core.parameters, slope * t, p * d.core.parameters.remanentFlux);
      const expected = 7 * (answer(1) - answer(-1));
      expect(expected).toBeGreaterThan(1e-3);
      const complement = Uint8Array.from(own, (bit) => 1 - bit);
      const spread = Math.abs(sum(own) - sum(complement)) / 2;
      expect(Math.abs(spread / expected - 1), kind).toBeLessThan(1e-3);
      for (const other of KINDS) {
        if (other === kind || other === 'shared-one-run' || kind === 'shared-one-run') continue;
        const theirs = worstPattern(design({ ...file, winding: { kind: other } }), 'one');
        const polarity = polarityOf(d.mat, d.winding)[8 + 2]!;
        expect(polarity * sum(theirs), `${other} on ${kind}`).toBeGreaterThan(polarity * sum(own));
      }
    }
  });

  // P5: MIT memo M-2919 (1954, abstract read).
  it('the same pattern with another disturb history gives another sense output', () => {
    const file = { ...square(8), stored: { kind: 'checkerboard' } };
    const fresh = run(file);
    const disturbed = run({ ...file, initialState: 'disturbed' });
    const trained = run({
      ...file,
      programme: [
        ...Array.from({ length: 8 }, (_, i) => ({ row: 1, column: i, lines: 'x', write: 'none' })),
        { row: 1, column: 2 },
      ],
    });
    const own = peakOf(fresh.time, fresh.contributions!.selectedCore, 50 * ns, 400 * ns).value;
    expect(difference(disturbed.senseVoltage, fresh.senseVoltage)).toBeGreaterThan(0.01 * own);
    expect(difference(trained.senseVoltage, fresh.senseVoltage)).toBeGreaterThan(0.01 * own);
  });

  // P7: US 3,646,531 (as reported by a digest).
  it('noise of a rising drive peaks before the ONE', () => {
    const s = run({ ...square(16), stored: { kind: 'checkerboard' } });
    const one = peakOf(s.time, s.contributions!.selectedCore, 0, 450 * ns);
    expect(one.value).toBeGreaterThan(0);
    expect(noiseOf(s, 0, 450 * ns).time).toBeLessThan(one.time - 20 * ns);
  });

  // P8: US 3,564,517 (as reported by a digest) and Councill et al., IBM Technical Disclosure Bulletin, Sept. 1960.
  it('X ahead of Y halves the noise near the strobe and moves the ONE later by the stagger', () => {
    // Fast edges: with X on already, a slow edge of Y passes the threshold sooner after its start than both together.
    const core = { parameters: { staticKneeWidth: '10 mA', dynamicKneeWidth: '10 mA' } };
    // The two peaks lie 2.2 ns off the stagger, so samples stand closer than a nanosecond.
    const numerics = { output: '0.1 ns' };
    const file = {
      ...square(16),
      core,
      drive: drives('370 mA', '10 ns'),
      stored: { kind: 'zeros' },
      numerics,
    };
    const together = run(file);
    const apart = run({ ...file, cycle: { stagger: '120 ns' } });
    // After the edge, on which the core's elastic answer stands higher than its bell.
    const peak = (s: Simulation, edge: number): number =>
      peakOf(s.time, s.contributions!.selectedCore, edge + 20 * ns, 480 * ns).time;
    const near = noiseOf(apart, 110 * ns, 200 * ns).value / noiseOf(together, 0, 90 * ns).value;
    expect(near).toBeGreaterThan(0.4);
    expect(near).toBeLessThan(0.6);
    expect(Math.abs(peak(apart, 120 * ns) - peak(together, 0) - 120 * ns)).toBeLessThan(3 * ns);
  });

  // P9: derived (63 + 31 = 94 and 63 + 127 = 190), with cores that are inductors of 1 nH.
  it('a segment of a wire cut in four hears 94 half-selected cores, the whole plane 190', () => {
    const heard = (segments: number): number => {
      const s = run({
        mat: { rows: 64, columns: 128 },
        selected: { row: 10, column: 70, bit: 1 },
        winding: { kind: 'shared-one-run', segments },
        core: inductor('1 nH'),
        ...idleWire,
        // Loss, or the open wire rings for ever.
        wire: { ...idleWire.wire, lossTime: '2 ns' },
        drive: drives('370 mA', '50 ns'),
      });
      return valueAt(s.time, s.contributions!.halfSelectedReversible, 40 * ns) / ((1e-9 * 0.37) / (50 * ns));
    };
    expect(Math.abs(heard(4) / 94 - 1)).toBeLessThan(1e-3);
    expect(Math.abs(heard(1) / 190 - 1)).toBeLessThan(1e-3);
  });
});

describe('coupling without cores', () => {
  // P6: Koehler, IBM Technical Disclosure Bulletin, March 1968; derived.
  const polarity = [
    [1, 1, -1],
    [1, -1, 1],
    [-1, 1, 1],
  ];
  const bare = (mutualX: string, mutualY: string): File => ({
    mat: { rows: 3, columns: 3 },
    selected: { row: 0, column: 0, bit: 1 },
    winding: { kind: 'custom', polarity, order: [0, 1, 2, 5, 4, 3, 6, 7, 8], shared: false },
    ...idleWire,
    wire: { ...idleWire.wire, mutualX, mutualY },
    drive: drives('370 mA', '50 ns'),
    ...noCores(3, 3),
  });

  it('is M dI/dt summed over the crossings with the sign of each, and nothing while currents stand', () => {
    const s = run(bare('0.4 nH', '0.3 nH'));
    // Row 0 counts 1 + 1 - 1, column 0 counts 1 + 1 - 1: one crossing each is left.
    const expected = (0.4e-9 + 0.3e-9) * (0.37 / (50 * ns));
    const at = (t: number): number => valueAt(s.time, s.senseVoltage, t);
    expect(Math.abs(at(30 * ns) / expected - 1)).toBeLessThan(1e-5);
    expect(Math.abs(at(300 * ns))).toBeLessThan(1e-6 * expected);
    expect(Math.abs(at(500 * ns + 30 * ns) / -expected - 1)).toBeLessThan(1e-5);
    expect(difference(s.senseVoltage, s.contributions!.directCoupling)).toBeLessThan(1e-12);
    expect(splitError(s)).toBeLessThan(1e-9);
  });

  it('is exactly nothing without mutual inductance', () => {
    expect(Math.abs(peakOf(run(bare('0 H', '0 H')).time, run(bare('0 H', '0 H')).senseVoltage).value)).toBe(
      0,
    );
  });
});

describe('inhibit', () => {
  // I1: maintenance manual DEC-8E-HMM1A-D-D, 1973, section 3.22 (as reported by a digest) and derived.
  it.each(['shared-one-run', 'shared-two-halves', 'separate-diagonal'] as const)(
    'leaves 400 mA at the selected core, 30 mA on the lines and -340 mA on the rest (%s)',
    (kind) => {
      const s = run({
        ...square(8),
        winding: { kind },
        // A selected core that crept would keep a little current in the wire.
        core: inductor('1 nH'),
        wire: { resistancePerCore: '0 ohm' },
        drive: {
          x: { readAmplitude: '370 mA' },
          y: { readAmplitude: '370 mA' },
          inhibit: { amplitude: '340 mA' },
        },
        programme: [{ row: 1, column: 2, write: 'zero' }],
      });
      const t = 1400 * ns;
      const F = valueAt(s.time, s.selected.drive, t);
      expect(Math.abs(F - 0.4)).toBeLessThan(1e-9);
      expect(F / 0.37).toBeCloseTo(1.081, 3);
      const inhibit = valueAt(s.time, s.currents.inhibit, t);
      expect(valueAt(s.time, s.currents.x, t) - inhibit).toBeCloseTo(0.03, 9);
      expect(-inhibit).toBeCloseTo(-0.34, 9);
      if (kind === 'shared-one-run') expect(valueAt(s.time, s.currents.sense, t)).toBeCloseTo(-0.34, 8);
    },
  );

  // I3: US 3,564,517 (as reported by a digest); Goldstick and Klein, IRE Transactions EC 11(2), 1962.
  it('of the cycle before is heard at the next strobe, the less the longer the wire has rested', () => {
    // Low terminations: the wire's L over R is some 100 ns.
    const file = (write: string, period: number): File => ({
      ...square(8),
      terminations: { a: '1 ohm', b: '1 ohm' },
      wire: { resistancePerCore: '20 mohm', inductancePerCore: '1 nH' },
      cycle: { period: `${period} ns` },
      programme: [
        { row: 1, column: 2, write },
        { row: 1, column: 2 },
      ],
    });
    const heard = (write: string, period: number): number => {
      const s = run(file(write, period));
      return Math.abs(valueAt(s.time, s.contributions!.inhibit, expectedPeak(s.design)));
    };
    const rested = [1640, 1700, 1800, 2000, 2400, 3600].map((period) => heard('zero', period));
    expect(rested[0]).toBeGreaterThan(1e-4);
    // What is left of it in the end drowns in what a core that counts as standing still may induce (10 nV a turn).
    for (let i = 1; i < rested.length; i++) expect(rested[i]).toBeLessThan(Math.max(rested[i - 1]!, 1e-8));
    expect(rested.at(-1)!).toBeLessThan(1e-3 * rested[0]!);
    // What still flows of a write that was not inhibited counts as inhibit too; it is little.
    expect(heard('one', 1640)).toBeLessThan(0.05 * rested[0]!);
  });
});

describe('temperature on a mat', () => {
  const at = (celsius: number, more: object = {}): Simulation =>
    run({ ...square(8), temperature: `${celsius} °C`, ...more });
  const one = (s: Simulation): { value: number; time: number } =>
    peakOf(s.time, s.contributions!.selectedCore, 45 * ns, 450 * ns);

  // T1, T2: IBM 1800 theory of operation SY26-5912-4, 1970 (as reported by a digest).
  it('a warmer core peaks earlier and higher, and a strobe set for the peak of the cold core reads less', () => {
    // A drive not far above threshold: there the bell's time changes most.
    const weak = { readAmplitude: '300 mA' };
    const cold = at(5, { drive: { x: weak, y: weak } });
    const warm = at(60, { drive: { x: weak, y: weak } });
    expect(one(warm).time).toBeLessThan(one(cold).time);
    expect(one(warm).value).toBeGreaterThan(one(cold).value);
    const { time } = one(cold);
    expect(valueAt(warm.time, warm.senseVoltage, time)).toBeLessThan(
      valueAt(cold.time, cold.senseVoltage, time),
    );
  });

  it('a colder core peaks later and lower, and more drive restores it', () => {
    const room = one(at(25));
    const cold = one(at(5));
    const more = { readAmplitude: '400 mA' };
    const driven = one(at(5, { drive: { x: more, y: more } }));
    expect(cold.time).toBeGreaterThan(room.time);
    expect(cold.value).toBeLessThan(room.value);
    expect(Math.abs(driven.time - room.time)).toBeLessThan(Math.abs(cold.time - room.time) / 2);
    expect(driven.value).toBeGreaterThan(cold.value);
  });
});

describe('flux closure', () => {
  // C12: derived.
  it('the wire links what its EMF brought, for every winding, history, odd core and cable', () => {
    for (const kind of KINDS)
      for (const more of [
        {},
        { wire: { cable: { delay: '3 ns' } } },
        {
          initialState: 'disturbed',
          programme: [
            { row: 1, column: 2, write: 'zero' },
            { row: 1, column: 2 },
          ],
        },
        {
          exceptions: [
            { row: 1, column: 0, reversed: true },
            { row: 0, column: 2, bias: '1 A' },
          ],
        },
      ])
        expect(run({ ...square(8), winding: { kind }, ...more }).fluxClosure, kind).toBeLessThan(1e-3);
  });

  it('the selected core gives the wire exactly the flux by which its linkage changes', () => {
    const s = run({ ...square(8), ...idleWire, stored: { kind: 'checkerboard' } });
    const { flux } = s.selected;
    for (const to of [200 * ns, 490 * ns, 900 * ns, 1490 * ns]) {
      const change = valueAt(s.time, flux, to) - flux[0]!;
      const brought = area(s.time, s.contributions!.selectedCore, 0, to + 0.1 * ns);
      // Against the whole swing of the core: 2 phi_r = 5.4 nWb.
      expect(Math.abs(-brought - change) / 5.4e-9).toBeLessThan(1e-3);
    }
  });
});

describe('a core threaded backwards', () => {
  // Derived: the board turns the signal by the polarity that its address should have, so the fault is heard.
  it('gives an amplifier that goes by the address a ONE of the wrong sign, and the contributions at its output with it', () => {
    const file = { ...square(4), ...idleWire, amplifier: { polarity: 'address' } };
    const right = run(file);
    const backwards = run({ ...file, exceptions: [{ row: 1, column: 2, reversed: true }] });
    const t = expectedPeak(right.design);
    const heard = (s: Simulation): number => valueAt(s.time, s.amplifierOutput, t);
    const own = (s: Simulation): number => valueAt(s.time, s.contributions!.selectedCore, t);
    expect(heard(right)).toBeGreaterThan(0);
    expect(own(backwards) / own(right)).toBeCloseTo(-1, 2);
    expect(heard(backwards)).toBeLessThan(0);
    const parts = referParts(backwards).parts.selectedCore;
    expect(valueAt(backwards.time, parts, t)).toBeLessThan(0);
  });
});
