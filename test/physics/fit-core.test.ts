import { describe, expect, test } from 'vitest';
import { disturbedState } from '../../engine/core/disturb.ts';
import { pulseDrive } from '../../engine/core/drive.ts';
import { answersOfCore, disturbTest, readFlat } from '../../engine/core/handbook/answers.ts';
import { checkHandbook } from '../../engine/core/handbook/check-handbook.ts';
import { coreFromHandbook } from '../../engine/core/handbook/invert.ts';
import type { CoreHandbook } from '../../engine/core/handbook/values.ts';
import { runCore } from '../../engine/core/single.ts';
import { restState, type CoreState } from '../../engine/core/state.ts';
import type { Trace } from '../../engine/fitting/align/trace-tools.ts';
import { fitCore } from '../../engine/fitting/jig/fit-core.ts';
import { MeasureError, measureOne } from '../../engine/fitting/jig/measure-core.ts';
import { fitPolynomial } from '../../engine/numerics/polynomial-fit.ts';
import { normalDeviates, randomStream } from '../../engine/numerics/random.ts';

/** Invented values of one core (C11: in, parameters out, simulated again). */
const BOOK: CoreHandbook = {
  fullDrive: 0.74,
  rise: 60e-9,
  peakOne: 48e-3,
  peakTime: 132e-9,
  switchTime: 244e-9,
  disturbRatio: 0.6,
  disturbedZero: 9e-3,
  dynamicThreshold: 0.48,
  coerciveDrive: 0.5,
  outsideDiameter: 508e-6,
  insideDiameter: 304.8e-6,
  height: 127e-6,
};
const core = coreFromHandbook(BOOK);
const DELAY = 3.21e-6;

/** What an instrument records of the core's answer to a read that starts at DELAY on its own clock. */
function jig(state: CoreState, noise: number, seed: number, gain = 1, interval = 1e-9): Trace {
  const width = BOOK.rise + readFlat(BOOK);
  const pulse = { amplitude: -BOOK.fullDrive, start: 0, width, rise: BOOK.rise, fall: BOOK.rise };
  const run = runCore(core.parameters, pulseDrive([pulse], width), { step: 0.25e-9, initial: state });
  const normal = normalDeviates(randomStream(seed));
  const count = Math.floor((width + 80e-9) / interval);
  const time = Float64Array.from({ length: count }, (_, i) => -80e-9 + i * interval);
  let k = 0;
  const value = time.map((t) => {
    while (k < run.time.length - 2 && run.time[k + 1] < t) k++;
    const span = run.time[k + 1] - run.time[k];
    const f = t < 0 || span === 0 ? 0 : (t - run.time[k]) / span;
    const emf = t < 0 ? 0 : run.emf[k] + f * (run.emf[k + 1] - run.emf[k]);
    return gain * emf + 1.5e-3 + noise * normal();
  });
  return { time: time.map((t) => t + DELAY), value };
}
const edge = { start: DELAY, rise: BOOK.rise };
const { peakOne: _1, peakTime: _2, switchTime: _3, disturbedZero: _4, rise: _5, ...settings } = BOOK;

describe('a core measured on a jig', () => {
  test('uV1, t_p, t_s and dVz come back from clean captures within 0.5 %, whatever the polarity of the probe', () => {
    const zero = disturbedState(core.parameters, disturbTest(BOOK)).zero;
    for (const gain of [1, -10]) {
      const fitted = fitCore(
        {
          one: { trace: jig(restState(core.parameters, 1), 0, 1, gain), edge },
          disturbedZero: { trace: jig(zero, 0, 2, gain), edge },
          gain,
        },
        settings,
      );
      for (const field of ['peakOne', 'peakTime', 'switchTime', 'disturbedZero'] as const) {
        expect(
          Math.abs((fitted.measured[field]?.value as number) / (BOOK[field] as number) - 1),
          field,
        ).toBeLessThan(0.005);
      }
    }
  });

  test('the fitted core, simulated again, answers as the measured one within 1 %', () => {
    const fitted = fitCore({ one: { trace: jig(restState(core.parameters, 1), 0.1e-3, 3), edge } }, settings);
    const again = answersOfCore(fitted.report.parameters, fitted.handbook);
    for (const field of ['peakOne', 'peakTime', 'switchTime'] as const) {
      expect(Math.abs(again[field] / BOOK[field] - 1), field).toBeLessThan(0.01);
    }
  });

  test('stated errors are right: in 100 noisy captures the scatter is what is stated, within a third', () => {
    const fields = ['peakOne', 'peakTime', 'switchTime'] as const;
    const all = Array.from({ length: 100 }, (_, i) =>
      measureOne(jig(restState(core.parameters, 1), 0.5e-3, 1000 + i), edge),
    );
    for (const field of fields) {
      const values = all.map((m) => m[field].value);
      const mean = values.reduce((s, v) => s + v, 0) / values.length;
      const scatter = Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / (values.length - 1));
      const stated = Math.sqrt(all.reduce((s, m) => s + m[field].error ** 2, 0) / all.length);
      expect(stated / scatter, field).toBeGreaterThan(0.67);
      expect(stated / scatter, field).toBeLessThan(1.5);
    }
  });

  test("the entry for one's own list is a handbook file that reads back to the same core", () => {
    const fitted = fitCore(
      { one: { trace: jig(restState(core.parameters, 1), 0.1e-3, 4), edge } },
      settings,
      'jig 3',
    );
    const { handbook, from } = checkHandbook(fitted.entry);
    expect(handbook).toEqual(fitted.handbook);
    expect(from.name).toBe('jig 3');
    expect(from.grades.peakOne).toBe('measured, read off a capture');
    expect(coreFromHandbook(handbook).parameters).toEqual(fitted.report.parameters);
  });

  test('a capture that begins too late, ends too early or is too coarse is refused with a remedy', () => {
    const whole = jig(restState(core.parameters, 1), 0, 5);
    const part = (from: number, to: number): Trace => ({
      time: whole.time.slice(from, to),
      value: whole.value.slice(from, to),
    });
    expect(() => measureOne(part(80, 500), edge)).toThrow('at least 5 samples before the drive');
    expect(() => measureOne(part(0, 230), edge)).toThrow(MeasureError);
    expect(() => measureOne(part(0, 290), edge)).toThrow('down to a twenty-fifth of the peak');
    expect(() => measureOne(jig(restState(core.parameters, 1), 0, 5, 1, 12e-9), edge)).toThrow(
      'shorter sample interval',
    );
  });
});

describe('a polynomial by least squares', () => {
  test('is exact on a polynomial of its degree, with slope, curvature and no error', () => {
    const x = [1, 2, 4, 5, 7, 9];
    const fit = fitPolynomial(
      x,
      x.map((v) => 2 - 3 * v + 0.5 * v * v),
      2,
    );
    expect(fit.valueAt(3)).toBeCloseTo(-2.5, 10);
    expect(fit.slopeAt(3)).toBeCloseTo(0, 10);
    expect(fit.curvatureAt(3)).toBeCloseTo(1, 10);
    expect(fit.valueError(3)).toBeCloseTo(0, 8);
    expect(() => fitPolynomial([1, 2], [1, 2], 1)).toThrow('needs at least 3 points; received 2');
  });
});
