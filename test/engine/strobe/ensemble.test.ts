import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { designToJson } from '../../../engine/design/design-to-json.ts';
import type { Design } from '../../../engine/design/design.ts';
import { CONTRIBUTIONS } from '../../../engine/network/causes.ts';
import { valueAt } from '../../../engine/sense-amplifier/detector.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import type { SimulateOptions, Simulation } from '../../../engine/solver/result.ts';
import { applyOverrides } from '../../../engine/strobe/case-overrides.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { envelopeOf, strobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { passIntervals } from '../../../engine/strobe/intervals.ts';
import { noticeHalfSelect } from '../../../engine/strobe/notices.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { windowOf } from '../../../engine/strobe/window-of.ts';
import { demo } from '../../demo-design.ts';

const ns = 1e-9;
const mV = 1e-3;

const board = demo('classroom-board-first-try-4x4');
const found = strobeWindow(board, { cases: 'corners' });

describe('the strobe window of a design', () => {
  it('takes its envelope from its cases and names them', () => {
    const at = (trace: Float64Array): number => valueAt(found.envelope.time, trace, found.inForce.time);
    const nominal = found.cases.filter((c) => !c.corner);
    const values = (bit: 0 | 1): number[] => nominal.filter((c) => c.bit === bit).map((c) => c.atStrobe);
    expect(at(found.envelope.one)).toBeCloseTo(Math.min(...values(1)), 9);
    expect(at(found.envelope.zero)).toBeCloseTo(Math.max(...values(0)), 9);
    expect(new Set(found.cases.map((c) => c.name)).size).toBe(found.cases.length);
    const defining = found.cases.filter((c) => c.defines);
    expect(defining.map((c) => c.bit).sort()).toEqual([0, 1]);
  });

  it('lets every case be opened: the patched design alone gives the value told, exactly where the case decides', () => {
    const nominal = found.cases.filter((c) => !c.corner);
    const least = nominal.filter((c) => c.bit === 1).sort((a, b) => a.atStrobe - b.atStrobe)[0]!;
    const greatest = nominal.filter((c) => c.bit === 0).sort((a, b) => b.atStrobe - a.atStrobe)[0]!;
    const others = found.cases.filter((c) => c.defines || c.corner).slice(0, 6);
    for (const each of [least, greatest, ...others]) {
      const run = simulate(applyOverrides(board, each.overrides!), {
        contributions: false,
        estimateError: false,
      });
      const scale = 1 / (board.amplifier.divider * board.amplifier.gain);
      const value = valueAt(run.time, run.amplifierOutput, found.inForce.time - board.detector.delay) * scale;
      // Cases that only searched ran in longer steps.
      expect(value).toBeCloseTo(each.atStrobe, each === least || each === greatest ? 12 : 5);
    }
  });

  it('lets every case be opened as a design file that the check accepts', () => {
    for (const each of found.cases) {
      const patched = applyOverrides(board, each.overrides!);
      expect(checkDesign(designToJson(patched)).selected).toEqual(patched.selected);
    }
  });

  it('splits the worst ONE and ZERO by cause so that the parts add up to the value at the strobe', () => {
    for (const bit of [1, 0] as const) {
      const parts = found.atStrobe[bit === 1 ? 'one' : 'zero'];
      const sum = CONTRIBUTIONS.reduce((total, name) => total + parts[name], 0);
      const value = found.cases.find((c) => c.defines && c.bit === bit)!.atStrobe;
      expect(sum).toBeCloseTo(value, 5);
    }
  });

  it('answers for another strobe and threshold from the ensemble as from its own envelope', () => {
    const ensemble = runEnsemble(board, { simulate, cases: 'quick' });
    if (!('envelope' in ensemble)) throw new Error('the demo must run');
    const moved = windowOf(ensemble, { time: 450 * ns, threshold: 25 * mV });
    const own = passIntervals(envelopeOf(moved.envelope, board), 25 * mV, strobeUncertainties(board));
    expect(moved.intervals).toHaveLength(own.length);
    moved.intervals.forEach((interval, i) => {
      expect(Math.abs(interval.start - own[i].start)).toBeLessThan(1e-15);
      expect(Math.abs(interval.end - own[i].end)).toBeLessThan(1e-15);
    });
    expect(moved.inForce).toEqual({ time: 450 * ns, threshold: 25 * mV });
  });

  it('runs the worst pattern: none of all patterns of the half-selected cores is worse, in either state', () => {
    const small = demo('classroom-board-first-try-4x4', {
      mat: { rows: 2, columns: 4 },
      selected: { row: 0, column: 1 },
    });
    const { cases, inForce } = strobeWindow(small, { cases: 'quick' });
    const least = Math.min(...cases.filter((c) => c.bit === 1).map((c) => c.atStrobe));
    const greatest = Math.max(...cases.filter((c) => c.bit === 0).map((c) => c.atStrobe));
    const scale = 1 / (small.amplifier.divider * small.amplifier.gain);
    const halfSelected = [0, 2, 3, 5];
    for (let pattern = 0; pattern < 16; pattern++)
      for (const bit of [0, 1] as const)
        for (const initialState of ['undisturbed', 'disturbed'] as const) {
          const bits = new Uint8Array(8);
          halfSelected.forEach((core, i) => {
            bits[core] = (pattern >> i) & 1;
          });
          bits[1] = bit;
          const design = { ...small, initialState, selected: { ...small.selected, bit } };
          const run = simulate(design, { bits, contributions: false, estimateError: false });
          const seen = inForce.time - small.detector.delay;
          const value = valueAt(run.time, run.amplifierOutput, seen) * scale;
          if (bit === 1) expect(value).toBeGreaterThan(least - 1e-6);
          else expect(value).toBeLessThan(greatest + 1e-6);
        }
  });

  it('reports a weak selected core as a false zero', () => {
    // A3: Törnquist, Elteknik 2 (1959), pp. 97-98: a disturbed ONE under the threshold at the strobe.
    const { row, column } = board.selected;
    const weak = demo('classroom-board-first-try-4x4', {
      exceptions: [{ row, column, fluxFactor: 0.2 }],
      strobe: { time: `${found.inForce.time} s` },
    });
    const { notices } = strobeWindow(weak, { cases: 'quick' });
    const notice = notices!.find((n) => n.code === 'false-zero')!;
    expect(notice.message).toContain('disturbed');
    expect(notice.value).toBeLessThan(notice.limit);
    expect(found.notices!.some((n) => n.code === 'false-zero')).toBe(false);
  });

  // A2: PDP-8/E maintenance manual vol. 1, DEC-8E-HMM1A-D-D, 1973, as reported.
  it.each(['classroom-board-first-try-4x4', 'common-practice-8x8', 'tide-recorder-first-try-32x32'])(
    'passes at three or more neighbouring taps of 10 ns on the healthy %s, and chooses their middle',
    (name) => {
      const { taps, tap, intervals } = strobeWindow(demo(name), { cases: 'quick' });
      const passing = taps.filter(({ pass }) => pass).map(({ time }) => time);
      expect(passing.length).toBeGreaterThanOrEqual(3);
      expect(passing.at(-1)! - passing[0]!).toBeCloseTo((passing.length - 1) * 10 * ns, 15);
      expect(tap).toBe(passing[Math.floor(passing.length / 2)]);
      expect(intervals.some(({ start, end }) => start <= tap! && tap! <= end)).toBe(true);
    },
  );

  it('has no answer where one run went wrong, which it names, and none where nothing is left', () => {
    let count = 0;
    const flaky = (design: Design, options?: SimulateOptions): Simulation => {
      const run = simulate(design, options);
      const bad = count++ === 1;
      return bad ? { ...run, outcome: { kind: 'not-finite', time: 0, advice: 'Take a smaller step.' } } : run;
    };
    const some = strobeWindow(board, { cases: 'quick', simulate: flaky });
    expect(some.strobe).toBeUndefined();
    expect(some.reason).toContain('Take a smaller step.');
    const broken = (design: Design): Simulation => ({
      ...simulate(design, { contributions: false, estimateError: false }),
      outcome: { kind: 'cancelled', time: 0, advice: 'Start again.' },
    });
    const none = strobeWindow(board, { cases: 'quick', simulate: broken });
    expect(none.strobe).toBeUndefined();
    expect(none.reason).toContain('cancelled');
  });

  it('counts corners apart, and they never leave more than the nominal build has', () => {
    const { corners } = found;
    expect(corners!.margin.total).toBeLessThanOrEqual(found.margin.total);
    for (const { start, end } of corners!.strobe ? [corners!.strobe] : [])
      expect(found.intervals.some((i) => i.start <= start && end <= i.end)).toBe(true);
    expect(strobeWindow(board, { cases: 'quick' }).corners).toBeUndefined();
  });

  it('flags half-select noise of 7 mV and more where less than 7 mV is due', () => {
    // A5: as reported of the IBM 1800's 2 us storage: half-select noise at the strobe under 7 mV (maintenance manual
    // SY26-5956-6, 1970).
    expect(noticeHalfSelect(6.999 * mV, 7 * mV)).toEqual([]);
    expect(noticeHalfSelect(7 * mV, 7 * mV)[0].code).toBe('half-select-noise');
    const noisy = strobeWindow(
      demo('tide-recorder-first-try-16x16', { requirement: { halfSelectNoise: '1 mV' } }),
      {
        cases: 'quick',
      },
    );
    expect(noisy.notices!.some((n) => n.code === 'half-select-noise')).toBe(true);
    const quiet = strobeWindow(
      demo('tide-recorder-first-try-16x16', { requirement: { halfSelectNoise: '7 mV' } }),
      {
        cases: 'quick',
      },
    );
    expect(quiet.notices!.some((n) => n.code === 'half-select-noise')).toBe(false);
  });
});
