import { describe, expect, test } from 'vitest';
import { simulate } from '../../../engine/index.ts';
import type { Design } from '../../../engine/index.ts';
import { readOf } from '../../../engine/fitting/align/line-up.ts';
import { judgeCapture } from '../../../engine/fitting/judge/judge-capture.ts';
import { judgeSignal } from '../../../engine/fitting/judge/judge-signal.ts';
import type { Judgement } from '../../../engine/fitting/judge/judgement.ts';
import { build, capture, SMALL } from '../../independent/builds.ts';
import type { Seen } from '../../independent/builds.ts';
import type { Captured } from '../../independent/instrument.ts';

const design = build(SMALL);
const run = simulate(design, { contributions: false, estimateError: false });
const expectedOf = (d: Design, value: Float64Array) => ({
  prediction: { time: run.time, value },
  edge: d.drive.x.rise,
  read: readOf(d),
});
const codes = (judgement: Judgement): string[] => judgement.findings.map((f) => f.code);
const judged = (seen: Seen = {}, change = (c: Captured): Captured => c): Judgement =>
  judgeCapture(change(capture(SMALL, [], { until: 900e-9, ...seen })), expectedOf(design, run.senseVoltage));

/** Every capture is made by the tests' own integrator and instrument; the judge knows the design only. */
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

  test('does not take a missing core, a weak drive or a short for a probe factor', () => {
    const odd = [
      [{ path: '/exceptions', value: [{ row: 1, column: 2, missing: true }] }],
      [
        { path: '/drive/x/readAmplitude', value: '300 mA' },
        { path: '/drive/y/readAmplitude', value: '300 mA' },
      ],
      [{ path: '/terminations/b', value: 'short' }],
      [{ path: '/selected', value: { row: 1, column: 2, bit: 0 } }],
    ];
    for (const changes of odd)
      expect(
        judgeCapture(capture(SMALL, changes, { until: 900e-9 }), expectedOf(design, run.senseVoltage)).probe,
      ).toBe(1);
  });

  test('finds clipping, leaves out those samples only, and calls a capture that is mostly clipped unusable', () => {
    const some = judged({ instrument: { clip: 0.04, step: 0.5e-3, noise: 0.1e-3 } });
    expect(codes(some)).toContain('clipped');
    expect(some.clipped.reduce((sum, v) => sum + v, 0)).toBeGreaterThan(3);
    expect(some.verdict).toBe('good enough');
    const much = judged({ instrument: { clip: 0.004, noise: 0.1e-3 } });
    expect(much.verdict).toBe('not usable');
  });

  test('knows the output of a detector from a voltage', () => {
    const judgement = judged({}, ({ time, value }) => ({
      time,
      value: value.map((v, i) => (v > 0.02 ? 3.3 : 0) + 0.01 * Math.sin(i * 7.3)),
    }));
    expect(codes(judgement)).toEqual(['two-level']);
    expect(judgement.statement).toContain('Not usable: it has two levels');
  });

  test('calls a current a current', () => {
    expect(codes(judgeSignal(capture(SMALL, [], { until: 900e-9 }), 'A'))).toEqual(['current']);
  });

  test('finds the bandwidth of an instrument that is too slow for the edges, within a factor of 1.7', () => {
    for (const bandwidth of [5e6, 12e6]) {
      const judgement = judged({ instrument: { bandwidth } });
      expect(codes(judgement)).toContain('bandwidth');
      expect(Math.abs(Math.log(judgement.bandwidth / bandwidth))).toBeLessThan(Math.log(1.7));
    }
    expect(codes(judged({ instrument: { bandwidth: 350e6 } }))).not.toContain('bandwidth');
  });

  test('finds hum, offset, averaging, a short and a coarse record', () => {
    expect(codes(judged({ instrument: { hum: [8e-3, 200e3], before: 1.5e-6 } }))).toContain('hum');
    expect(codes(judged({ instrument: { offset: 20e-3 } }))).toContain('offset');
    expect(
      codes(judged({ instrument: { averaged: 256, noise: 0.3e-3, step: 5e-6, jitter: 1e-9 } })),
    ).toContain('averaged');
    expect(codes(judged({ until: 280e-9 }))).toContain('short');
    expect(codes(judged({ instrument: { interval: 30e-9 } }))).toContain('coarse');
  });

  test('finds a rectified output and an amplifier at its limit', () => {
    const fold = ({ time, value }: Captured): Captured => ({ time, value: value.map(Math.abs) });
    expect(codes(judged({ until: 2.2e-6 }, fold))).toContain('rectified');
    const output = judgeSignal(
      capture(SMALL, [{ path: '/amplifier/outputLimit', value: '0.5 V' }], {
        observed: 'amplifier',
        instrument: { noise: 2e-3 },
        until: 900e-9,
      }),
    );
    expect(codes(output)).toContain('limited');
  });
});
