import { describe, expect, it } from 'vitest';
import { applyOverrides } from '../../../engine/strobe/case-overrides.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { designToJson } from '../../../engine/design/design-to-json.ts';
import type { Design } from '../../../engine/design/design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { caseSpace } from '../../../engine/strobe/cases.ts';
import { passIntervals } from '../../../engine/strobe/intervals.ts';
import { strobeUncertainties, strobeSearch, buildEnvelope } from '../../../engine/strobe/envelope.ts';
import { ratePeriods } from '../../../engine/strobe/rates.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import type { WindowCase } from '../../../engine/strobe/window-result.ts';
import { pulseRows } from '../../../engine/strobe/window-words.ts';
import { demo } from '../../demo-design.ts';
import { heard } from './heard.ts';

const ns = 1e-9;
const mV = 1e-3;

const jig = demo('single-core-jig');
const ofJig = strobeWindow(jig, { cases: 'corners' });
const board = demo('classroom-board-first-try-4x4');
const ofBoard = strobeWindow(board, { cases: 'corners' });

describe('a bit just written', () => {
  const kept = (cases: readonly WindowCase[]): WindowCase[] =>
    cases.filter((c) => !c.corner && c.name.includes('kept by its own inhibited write'));

  it('is a case of either bit on either disturb state, that opens as a design and reads as told', () => {
    const written = ofBoard.cases.filter((c) => !c.corner && c.name.includes('written in the cycle before'));
    expect(kept(ofBoard.cases).length).toBeGreaterThan(1);
    expect(written.length).toBeGreaterThan(1);
    for (const each of [...kept(ofBoard.cases), ...written]) {
      const opened = checkDesign(designToJson(applyOverrides(board, each.overrides!)));
      const [before, last] = opened.programme;
      expect(before).toMatchObject({
        ...address(opened),
        read: true,
        write: each.bit === 1 ? 'one' : 'zero',
      });
      expect(last).toMatchObject(address(opened));
      // Cases that only searched ran in longer steps.
      expect(heard(opened, ofBoard.inForce.time)).toBeCloseTo(each.atStrobe, 5);
    }
  });

  it('leaves a greater ZERO than a train of half-selects: 400 of 370 mA net, so that it sets the envelope of a core alone', () => {
    const { x, y, inhibit } = jig.drive;
    expect(x.writeAmplitude + y.writeAmplitude - inhibit.amplitude).toBeGreaterThan(x.writeAmplitude);
    const trained = ofJig.cases.find((c) => c.name === 'ZERO, pattern as given, disturbed')!;
    const [own] = kept(ofJig.cases).filter((c) => c.defines);
    expect(own.atStrobe).toBeGreaterThan(trained.atStrobe);
    expect(own.bit).toBe(0);
  });

  it('counts in the quick answer too', () => {
    expect(kept(strobeWindow(jig, { cases: 'quick' }).cases)).toHaveLength(1);
  });
});

const address = ({ selected }: Design): { row: number; column: number } => ({
  row: selected.row,
  column: selected.column,
});

describe('corners of the supply', () => {
  const ends = (design: Design) => caseSpace(design).corners.slice(1);
  const stated = (tolerances: object): Design => demo('single-core-jig', { tolerances });

  it('are tried with every end of drive and temperature, and not where a tolerance is nothing', () => {
    expect(ends(jig)).toHaveLength(8);
    const alone = stated({ drive: 0, temperature: '0 K', supply: 0.05 });
    expect(ends(alone).map((spec) => spec.supply)).toEqual([0.95, 1.05]);
    expect(ends(stated({ drive: 0, temperature: '0 K', supply: 0 }))).toEqual([]);
  });

  it('move every drive and the threshold alike', () => {
    const each = ofJig.cases.find((c) => c.name.includes('drive −4 %, supply +2 %'))!;
    const { drive, detector } = applyOverrides(jig, each.overrides!);
    expect(drive.x.readAmplitude).toBeCloseTo(jig.drive.x.readAmplitude * 0.96 * 1.02, 12);
    expect(drive.y.writeAmplitude).toBeCloseTo(jig.drive.y.writeAmplitude * 0.96 * 1.02, 12);
    expect(drive.inhibit.amplitude).toBeCloseTo(jig.drive.inhibit.amplitude * 0.96 * 1.02, 12);
    expect(detector.threshold).toBeCloseTo(jig.detector.threshold * 1.02, 12);
  });

  it('leave the margin of a design run on that supply, its threshold moved too, in parts of the threshold', () => {
    const alone = stated({ drive: 0, temperature: '0 K', supply: 0.04 });
    const { corners, cases, inForce } = strobeWindow(alone, { cases: 'corners' });
    const ones = cases
      .filter((c) => c.bit === 1)
      .map((c) => {
        const opened = applyOverrides(alone, c.overrides!);
        return heard(opened, inForce.time) / (opened.detector.threshold / alone.detector.threshold);
      });
    expect(corners!.margin.one).toBeCloseTo(Math.min(...ones) - inForce.threshold, 9);
  });

  it('never leave more than the nominal build has', () => {
    const wide = strobeWindow(stated({ supply: 0.08 }));
    expect(wide.corners!.margin.total).toBeLessThanOrEqual(wide.margin.total);
    expect(wide.margin).toEqual(ofJig.margin);
  });
});

describe('the detector over the cycle rate', () => {
  it('starts with the design as it is and goes on to cycles without rest', () => {
    const periods = ofBoard.overRate!.map((at) => at.period);
    expect(periods[0]).toBe(board.cycle.period);
    expect(periods.slice(1)).toEqual(ratePeriods(board));
    expect([...periods].sort((a, b) => b - a)).toEqual(periods);
    expect(ofBoard.overRate![0].pulses).toEqual(ofBoard.pulses);
    expect(pulseRows(ofBoard)).toHaveLength(periods.length + 1);
  });

  it('shows a tail that reaches the next read: a slow amplifier has fallen later, or not at all', () => {
    const slow = strobeWindow(
      demo('tide-recorder-first-try-16x16', {
        amplifier: { bandwidth: '1 MHz' },
        strobe: { time: '316 ns' },
      }),
    );
    const [own, ...faster] = slow.overRate!.map((at) => at.pulses!.zeroFallen!);
    expect(faster.at(-1)!).toBeLessThan(own);
    expect(slow.corners!.pulses!.zeroFallen!).toBeLessThan(own);
  });
});

describe('the side that closes a window', () => {
  const closed = (patch: object, name = 'tide-recorder-first-try-16x16'): ReturnType<typeof strobeWindow> =>
    strobeWindow(demo(name, patch), { cases: 'quick' });

  it('is the ONE under a threshold that is too high: what takes from it is told, and a pair that would pass', () => {
    const { closedBy, reason, bestPair } = closed(
      { detector: { threshold: '40 mV' } },
      'carillon-sequencer-64x64',
    );
    expect(closedBy).toBe('one');
    expect(reason).toMatch(/the selected core itself gives .* the switching of half-selected cores takes/u);
    expect(reason).toContain(
      `with a threshold of ${Math.round(bestPair!.threshold * 1e4) / 10} mV would pass`,
    );
  });

  it('is the detector or the strobe where only they are too vague, and then no core is blamed', () => {
    const vague = closed({ detector: { threshold: '18 mV', uncertainty: '25 mV' } });
    const broad = closed({ strobe: { aperture: '200 ns' } });
    expect([vague.closedBy, broad.closedBy]).toEqual(['threshold', 'strobe']);
    for (const { reason, notices } of [vague, broad]) {
      expect(reason).not.toMatch(/led by|takes/u);
      expect(notices!.some((n) => n.limit <= 0)).toBe(false);
    }
  });

  it('is the ZERO of a mat that runs too hot, laid to its half-selected cores where the selected core speaks', () => {
    // An amplifier that never stands at its limit, so that what the cores give is what is blamed.
    const amplifier = { gain: 20, bandwidth: '20 MHz', outputLimit: '50 V', recovery: '0 ns' };
    const { closedBy, reason, atStrobe } = closed({ temperature: '75 degC', amplifier });
    expect(closedBy).toBe('zero');
    expect(reason).toContain('led by the switching of half-selected cores');
    expect(atStrobe.zero.halfSelectedIrreversible).toBeGreaterThan(50 * mV);
  });
});

describe('edges of a simulated read', () => {
  it('agree within 0.1 ns with those of the same read sampled a hundred times as densely', () => {
    const edges = (output: string): number[] => {
      const design = demo('minimal', { cycle: { period: '1.7 us' }, numerics: { output } });
      const [one, zero] = ([1, 0] as const).map((bit) => {
        const run = simulate(
          { ...design, selected: { ...design.selected, bit } },
          { contributions: false, estimateError: false, until: 700 * ns },
        );
        const scale = 1 / (design.amplifier.divider * design.amplifier.gain);
        const referred = run.amplifierOutput.map((value) => value * scale);
        return { name: `${bit}`, bit, time: run.time, referred };
      });
      const envelope = buildEnvelope(one.time, [one, zero], strobeSearch(design));
      const found = passIntervals(envelope, design.detector.threshold, strobeUncertainties(design));
      return found.flatMap(({ start, end }) => [start, end]);
    };
    const dense = edges('0.01 ns');
    const usual = edges('1 ns');
    expect(usual).toHaveLength(dense.length);
    expect(usual.length).toBeGreaterThan(1);
    usual.forEach((edge, i) => expect(Math.abs(edge - dense[i])).toBeLessThan(0.1 * ns));
  });
});
