import { Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  afterSeeing,
  along,
  chooseAlong,
  independent,
  rootOf,
  withMarginal,
} from '../../../engine/numerics/gaussian.ts';

describe('what is left unknown after something was seen', () => {
  it('is the weighted mean of two readings of one number', () => {
    // Known to 3 about 10, read as 14 to 4: mean (10/9 + 14/16)/(1/9 + 1/16), variance 1/(1/9 + 1/16).
    const known = afterSeeing(independent([10], [3]), new Matrix([[1]]), new Matrix([[16]]), [14]);
    expect(known.mean[0]).toBeCloseTo((10 / 9 + 14 / 16) / (1 / 9 + 1 / 16), 12);
    expect(known.covariance.get(0, 0)).toBeCloseTo(1 / (1 / 9 + 1 / 16), 12);
  });

  it('ties numbers together of which only the sum was seen, and leaves their difference open', () => {
    const known = afterSeeing(independent([0, 0], [1, 1]), new Matrix([[1, 1]]), new Matrix([[1e-8]]), [0]);
    expect(along(known, [1, 1]).deviation).toBeLessThan(1e-3);
    expect(along(known, [1, -1]).deviation).toBeCloseTo(Math.SQRT2, 6);
    expect(known.covariance.get(0, 1)).toBeCloseTo(-0.5, 6);
  });

  it('never grows, whatever is seen, and has a root that gives it back', () => {
    const before = independent([1, -2, 0.5], [2, 0, 1]);
    const after = afterSeeing(
      before,
      new Matrix([
        [1, 2, 0],
        [0, 1, 1],
      ]),
      new Matrix([
        [2, 0.5],
        [0.5, 1],
      ]),
    );
    for (const slopes of [
      [1, 0, 0],
      [0, 0, 1],
      [1, 1, 1],
      [3, 0, -2],
    ])
      expect(along(after, slopes).deviation).toBeLessThanOrEqual(along(before, slopes).deviation);
    const root = rootOf(after.covariance);
    const back = root.mmul(root.transpose());
    for (let i = 0; i < 3; i++)
      for (let k = 0; k < 3; k++) expect(back.get(i, k)).toBeCloseTo(after.covariance.get(i, k), 10);
  });
});

const close = (found: Matrix, wanted: number[][]): void => {
  found.to2DArray().forEach((row, i) => row.forEach((v, k) => expect(v).toBeCloseTo(wanted[i]![k]!, 6)));
};

describe('of two covariances', () => {
  const a = new Matrix([
    [4, 0],
    [0, 1],
  ]);
  const b = new Matrix([
    [1, 0],
    [0, 9],
  ]);
  it('the greater, or the lesser, is taken along each combination in which both are independent', () => {
    close(chooseAlong(a, b, Math.max), [
      [4, 0],
      [0, 9],
    ]);
    close(chooseAlong(a, b, Math.min), [
      [1, 0],
      [0, 1],
    ]);
  });

  it('a combination that one of them knows well stays well known in the lesser, though neither number is', () => {
    const tied = new Matrix([
      [4, 3.96],
      [3.96, 4],
    ]);
    const found = chooseAlong(tied, Matrix.diag([5, 5]), Math.min);
    const difference = { mean: [0, 0], covariance: found };
    expect(along(difference, [1, -1]).deviation ** 2).toBeCloseTo(0.08, 6);
  });
});

describe('another covariance of some numbers', () => {
  it('leaves how the others go with them, and what they have of their own', () => {
    // The second is twice the first and a noise of variance 3.
    const before = {
      mean: [1, 2],
      covariance: new Matrix([
        [1, 2],
        [2, 7],
      ]),
    };
    const { mean, covariance } = withMarginal(before, [0], new Matrix([[5]]));
    expect(mean).toEqual([1, 2]);
    close(covariance, [
      [5, 10],
      [10, 23],
    ]);
  });
});
