import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { leastSquares } from '../../../engine/numerics/levenberg-marquardt.ts';

type Model = (b: ArrayLike<number>, x: number) => number;
const cubic = (a: number, b: number, c: number, d: number, x: number) => a + x * (b + x * (c + x * d));

/** The models of the certified sets, as each fixture's `model` line says. */
const MODELS: Record<string, Model> = {
  Misra1a: (b, x) => b[0] * (1 - Math.exp(-b[1] * x)),
  Misra1d: (b, x) => (b[0] * b[1] * x) / (1 + b[1] * x),
  DanWood: (b, x) => b[0] * x ** b[1],
  BoxBOD: (b, x) => b[0] * (1 - Math.exp(-b[1] * x)),
  MGH09: (b, x) => (b[0] * (x * x + b[1] * x)) / (x * x + b[2] * x + b[3]),
  MGH10: (b, x) => b[0] * Math.exp(b[1] / (x + b[2])),
  MGH17: (b, x) => b[0] + b[1] * Math.exp(-b[3] * x) + b[2] * Math.exp(-b[4] * x),
  Rat42: (b, x) => b[0] / (1 + Math.exp(b[1] - b[2] * x)),
  Rat43: (b, x) => b[0] / (1 + Math.exp(b[1] - b[2] * x)) ** (1 / b[3]),
  Eckerle4: (b, x) => (b[0] / b[1]) * Math.exp(-0.5 * ((x - b[2]) / b[1]) ** 2),
  Lanczos3: (b, x) => b[0] * Math.exp(-b[1] * x) + b[2] * Math.exp(-b[3] * x) + b[4] * Math.exp(-b[5] * x),
  Roszman1: (b, x) => b[0] - b[1] * x - Math.atan(b[2] / (x - b[3])) / Math.PI,
  Thurber: (b, x) => cubic(b[0], b[1], b[2], b[3], x) / cubic(1, b[4], b[5], b[6], x),
  Bennett5: (b, x) => b[0] * (b[1] + x) ** (-1 / b[2]),
};

interface CertifiedSet {
  readonly name: string;
  readonly starts: number[][];
  readonly certified: {
    readonly parameters: number[];
    readonly standardDeviations: number[];
    readonly residualSumOfSquares: number;
    readonly residualStandardDeviation: number;
  };
  readonly x: number[];
  readonly y: number[];
}
const folder = new URL('../../../fixtures/published/nist-strd/', import.meta.url);
const sets = readdirSync(folder).map(
  (file) => JSON.parse(readFileSync(new URL(file, folder), 'utf8')) as CertifiedSet,
);

/** Agrees to six significant digits. */
const sixDigits = (value: number, certified: number) =>
  expect(Math.abs(value - certified) / Math.abs(certified), `${value} against ${certified}`).toBeLessThan(
    1e-6,
  );

describe('certified non-linear regression sets (NIST StRD, cited in each fixture)', () => {
  test('there is a model for every set', () => {
    expect(sets.length).toBeGreaterThanOrEqual(14);
    expect(sets.map((s) => s.name).sort()).toEqual(Object.keys(MODELS).sort());
  });

  for (const set of sets) {
    for (const which of [0, 1]) {
      test(`${set.name}, start ${which + 1}: parameters, their standard deviations and the scatter to six digits`, () => {
        const model = MODELS[set.name];
        const fit = leastSquares(
          {
            residuals: (b) => Float64Array.from(set.x, (x, i) => model(b, x) - set.y[i]),
            start: set.starts[which],
          },
          { maxIterations: 10_000 },
        );
        expect(fit.outcome).toBe('converged');
        set.certified.parameters.forEach((value, i) => sixDigits(fit.parameters[i], value));
        set.certified.standardDeviations.forEach((value, i) => sixDigits(fit.standardErrors[i], value));
        sixDigits(fit.cost, set.certified.residualSumOfSquares);
        sixDigits(fit.residualStandardDeviation, set.certified.residualStandardDeviation);
      });
    }
  }
});

const rosenbrock = (p: Float64Array) => Float64Array.of(10 * (p[1] - p[0] ** 2), 1 - p[0], 0.1);

describe('a fit says honestly how it ended', () => {
  const x = Array.from({ length: 20 }, (_, i) => i / 10);
  const line = (a: number, b: number) => (p: Float64Array) =>
    Float64Array.from(x, (t, i) => p[0] + p[1] * t - (a + b * t + 0.01 * Math.sin(37 * i)));

  test('two parameters that act only through their sum are singular, and the blind direction is their difference', () => {
    const fit = leastSquares({
      residuals: (p) => Float64Array.from(x, (t) => (p[0] + p[1]) * t - 3 * t - 0.01 * Math.sin(9 * t)),
      start: [1, 1],
    });
    expect(fit.outcome).toBe('singular');
    expect(fit.undetermined).toHaveLength(1);
    expect(fit.undetermined[0].blind).toBe(true);
    expect(Math.abs(fit.undetermined[0].direction[0])).toBeCloseTo(Math.SQRT1_2, 6);
    expect(fit.undetermined[0].direction[0]).toBeCloseTo(-fit.undetermined[0].direction[1], 6);
    expect(fit.standardErrors[0]).toBe(Infinity);
    expect(fit.parameters[0] + fit.parameters[1]).toBeCloseTo(3, 2);
  });

  test('a parameter without any effect is singular and the other is still found', () => {
    const fit = leastSquares({
      residuals: (p) => Float64Array.from(x, (_, i) => p[0] - 2 - 0.1 * (i % 2)),
      start: [1, 5],
    });
    expect(fit.outcome).toBe('singular');
    expect(fit.standardErrors[1]).toBe(Infinity);
    expect(fit.parameters[0]).toBeCloseTo(2.05, 9);
    expect(fit.standardErrors[0]).toBeCloseTo(Math.sqrt(0.05 ** 2 / 19), 9);
  });

  test('an iteration limit is reported as such', () => {
    expect(leastSquares({ residuals: rosenbrock, start: [-1.2, 1] }, { maxIterations: 3 }).outcome).toBe(
      'iteration limit',
    );
    const fit = leastSquares({ residuals: rosenbrock, start: [-1.2, 1] });
    expect(fit.outcome).toBe('converged');
    expect(fit.parameters[0]).toBeCloseTo(1, 9);
  });

  test('a cost that no step lowers, away from a minimum, is stalled', () => {
    // A kink at the start: differences across it promise a drop for smaller p, yet both sides rise.
    const fit = leastSquares({
      residuals: (p) => Float64Array.of(2 + (p[0] > 1 ? 3 * (p[0] - 1) : 1 - p[0]), 0.5),
      start: [1],
    });
    expect(fit.outcome).toBe('stalled');
    expect(fit.parameters[0]).toBe(1);
    expect(fit.offset).toBeGreaterThan(1);
  });

  test('a parameter driven to its bound is held there and said to be', () => {
    const fit = leastSquares({ residuals: line(1, 2), start: [0.2, 1.5], lower: [0, 0], upper: [0.5, 10] });
    expect(fit.outcome).toBe('converged');
    expect(fit.parameters[0]).toBe(0.5);
    expect(fit.atBound).toEqual(['upper', undefined]);
    expect(fit.standardErrors[0]).toBeNaN();
    // With the intercept held the slope is a one-parameter fit: sum t (y - 0.5) / sum t^2.
    const y = x.map((t, i) => 1 + 2 * t + 0.01 * Math.sin(37 * i));
    const slope = x.reduce((s, t, i) => s + t * (y[i] - 0.5), 0) / x.reduce((s, t) => s + t * t, 0);
    expect(fit.parameters[1]).toBeCloseTo(slope, 9);
  });

  test('the covariance of a straight line is the textbook one, whatever the units of its parameters', () => {
    const n = x.length;
    const [sx, sxx] = [x.reduce((s, t) => s + t, 0), x.reduce((s, t) => s + t * t, 0)];
    for (const unit of [1, 1e-12, 1e9]) {
      const base = line(1, 2);
      const fit = leastSquares({
        residuals: (p) => base(p.map((v) => v / unit)),
        start: [0.5 * unit, 3 * unit],
      });
      const s2 = fit.cost / (n - 2);
      const d = n * sxx - sx * sx;
      expect(fit.standardErrors[0] / unit).toBeCloseTo(Math.sqrt((s2 * sxx) / d), 10);
      expect(fit.standardErrors[1] / unit).toBeCloseTo(Math.sqrt((s2 * n) / d), 10);
      expect(fit.correlations[1]).toBeCloseTo(-sx / Math.sqrt(n * sxx), 7);
    }
  });

  test('with known noise the covariance does not depend on the scatter', () => {
    const noisy = leastSquares({ residuals: line(1, 2), start: [0, 0], scale: [1, 1] }, { noise: 'known' });
    const clean = leastSquares(
      { residuals: (p) => Float64Array.from(x, (t) => p[0] + p[1] * t - 1), start: [0, 0], scale: [1, 1] },
      { noise: 'known' },
    );
    expect(noisy.standardErrors[1]).toBeCloseTo(clean.standardErrors[1], 7);
  });

  test('a start outside the bounds or without finite residuals is refused', () => {
    const sentence = 'A fit must start inside its bounds, at parameters that give finite residuals.';
    expect(() => leastSquares({ residuals: line(1, 2), start: [0, 0], lower: [1, 1] })).toThrow(sentence);
    expect(() => leastSquares({ residuals: () => Float64Array.of(NaN), start: [0] })).toThrow(sentence);
  });
});
