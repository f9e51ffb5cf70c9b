import { describe, expect, test } from 'vitest';
import { simulate } from '../../../engine/index.ts';
import type { Patch } from '../../../engine/base/json-patch.ts';
import type { FitCapture } from '../../../engine/fitting/fit-captures.ts';
import { judgeCapture } from '../../../engine/fitting/judge/judge-capture.ts';
import { judgeCaptures, requireUsable } from '../../../engine/fitting/judge/judge-captures.ts';
import type { Judgement } from '../../../engine/fitting/judge/judgement.ts';
import { build, capture, SMALL, type Seen } from '../../independent/builds.ts';
import type { Captured } from '../../independent/instrument.ts';

const predicted = simulate(build(SMALL), { contributions: false, estimateError: false });
const codes = (judgement: Judgement): string[] => judgement.findings.map((f) => f.code);
const same = (trace: Captured): Captured => trace;
const judge = (trace: Captured, more: Partial<FitCapture> = {}, run = predicted): Judgement =>
  judgeCapture(run, { label: 'capture', trace, ...more });
/** A capture of the small board by the tests' own integrator and instrument; the judge knows the design only. */
const judged = (seen: Seen = {}, change = same, more: Partial<FitCapture> = {}): Judgement =>
  judge(change(capture(SMALL, [], { until: 900e-9, ...seen })), more);

describe('the judge of a capture', () => {
  test('finds nothing wrong with a plain capture, of cores of the family or not', () => {
    for (const departure of [{}, { skew: 0.25, spread: 0.05, knee: 'other' as const }]) {
      const judgement = judged({ departure, instrument: { delay: 3e-6 } });
      expect(codes(judgement)).toEqual([]);
      expect(judgement.verdict).toBe('good enough');
      expect(judgement.probe).toBe(1);
    }
  });

  test('believes a probe factor of ten or a hundred, told to the instrument too little or too often', () => {
    for (const probe of [0.1, 0.01, 10]) {
      const judgement = judged({ instrument: { probe, noise: 0.5e-3 } });
      expect(judgement.probe).toBe(probe);
      expect(judgement.verdict).toBe('only its shape');
      expect(judgement.statement).toContain(probe < 1 ? 'times too small' : 'times too large');
    }
  });

  test('divides by a factor that is believed and leaves the gain open, or divides by one that is stated', () => {
    const trace = capture(SMALL, [], { until: 900e-9, instrument: { probe: 0.1, noise: 0.5e-3 } });
    const one = { label: 'one', trace };
    const believed = judgeCaptures(SMALL, [one]).captures[0]!;
    const stated = judgeCaptures(SMALL, [{ ...one, probe: 0.1 }]);
    expect(believed.trace.value[300]).toBeCloseTo(10 * trace.value[300]!, 12);
    expect(believed.probeGain).toBe('free');
    expect(stated.captures[0]!.trace.value[300]).toBeCloseTo(10 * trace.value[300]!, 12);
    expect(stated.captures[0]!.probeGain).toBeUndefined();
    expect(codes(stated.judgements[0]!)).toEqual([]);
  });

  test('does not take a missing core, a weak drive or a short for a probe factor', () => {
    const odd: Patch[][] = [
      [{ path: '/exceptions', value: [{ row: 1, column: 2, missing: true }] }],
      [
        { path: '/drive/x/readAmplitude', value: '300 mA' },
        { path: '/drive/y/readAmplitude', value: '300 mA' },
      ],
      [{ path: '/terminations/b', value: 'short' }],
      [{ path: '/selected', value: { row: 1, column: 2, bit: 0 } }],
    ];
    for (const changes of odd) {
      const judgement = judge(capture(SMALL, changes, { until: 900e-9 }));
      expect(judgement.probe).toBe(1);
      expect(judgement.verdict).toBe('good enough');
    }
  });

  test('finds clipping, leaves out those samples only, and calls a capture that is mostly clipped unusable', () => {
    const some = judged({ instrument: { clip: 0.045, step: 0.5e-3, noise: 0.1e-3 } });
    expect(codes(some)).toEqual(['clipped']);
    const left = some.clipped.reduce((sum, v) => sum + v, 0);
    expect(left).toBeGreaterThan(3);
    expect(left).toBeLessThan(0.2 * some.clipped.length);
    expect(some.verdict).toBe('good enough');
    const much = judged({ instrument: { clip: 0.03, step: 0.5e-3, noise: 0.1e-3 } });
    expect(much.statement).toMatch(/^Not usable as it is: it is clipped: 2\d % of the samples/u);
  });

  test('knows a detector, a current by its unit and by its shape, and a flat line, and refuses them with what to do', () => {
    const logic = judged({}, ({ time, value }) => ({
      time,
      value: value.map((v, i) => (v > 0.02 ? 3.3 : 0) + 0.01 * Math.sin(i * 7.3)),
    }));
    expect(codes(logic)).toEqual(['two-level']);
    expect(codes(judged({}, same, { unit: 'A' }))).toEqual(['current']);
    const { time, currents } = predicted;
    expect(codes(judge({ time, value: currents.x.map((v, i) => v + 1e-3 * Math.sin(i * 7.3)) }))).toContain(
      'current',
    );
    const flat = judgeCaptures(SMALL, [
      { label: 'flat.csv', trace: { time, value: new Float64Array(time.length) } },
    ]);
    expect(() => requireUsable(flat)).toThrow('flat.csv: Not usable as it is: all its samples are alike.');
  });

  test('finds the bandwidth of an instrument that is too slow for the edges, within a factor of 1.7', () => {
    for (const bandwidth of [3.5e6, 5e6]) {
      const judgement = judged({ instrument: { bandwidth } });
      expect(codes(judgement)).toContain('bandwidth');
      expect(Math.abs(Math.log(judgement.bandwidth / bandwidth))).toBeLessThan(Math.log(1.7));
      expect(judgement.findings[0]!.belief).toContain('a drive that is slower or weaker');
    }
    expect(codes(judged({ instrument: { bandwidth: 350e6 } }))).toEqual([]);
  });

  test('finds hum, offset, averaging, a short and a coarse record', () => {
    expect(codes(judged({ instrument: { hum: [8e-3, 200e3], before: 1.5e-6 } }))).toContain('hum');
    expect(codes(judged({ instrument: { offset: 20e-3 } }))).toEqual(['offset']);
    const averaged = { averaged: 256, noise: 0.3e-3, step: 5e-6, jitter: 1e-9 };
    expect(codes(judged({ instrument: averaged }))).toEqual(['averaged']);
    expect(codes(judged({ until: 330e-9 }))).toEqual(['short']);
    expect(codes(judged({ instrument: { interval: 30e-9 } }))).toEqual(['coarse']);
  });

  test("knows the amplifier's output from the sense wire, linear or rectified, whatever was said", () => {
    const output: Seen = { observed: 'amplifier', until: 2.2e-6, instrument: { noise: 5e-3 } };
    expect(codes(judged(output))).toEqual(['other-place']);
    const fold = ({ time, value }: Captured): Captured => ({ time, value: value.map(Math.abs) });
    expect(codes(judged(output, fold))[0]).toMatch(/other-place|rectified/u);
    expect(codes(judged(output, fold, { observed: 'amplifier' }))).toEqual([]);
    expect(codes(judged(output, same, { observed: 'amplifier' }))).toEqual(['linear']);
    expect(codes(judged({ until: 2.2e-6 }, same, { observed: 'amplifier' }))[0]).toBe('other-place');
  });
});
