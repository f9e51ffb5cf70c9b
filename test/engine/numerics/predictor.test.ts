import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { makePredictor } from '../../../engine/numerics/predictor.ts';
import { randomStream } from '../../../engine/numerics/random.ts';

describe('what is predicted from a few values', () => {
  const random = randomStream(1, 3);
  const points = Array.from({ length: 40 }, () => [random(), random()] as const);
  const alike = (i: number, j: number): number =>
    Math.exp(-((points[i]![0] - points[j]![0]) ** 2 + (points[i]![1] - points[j]![1]) ** 2) * 4);
  const truth = points.map(([x, y]) => 3 + Math.sin(3 * x) + y * y);
  const known = [0, 5, 11, 17, 23, 31, 37];
  const predictor = makePredictor(points.length, alike);
  for (const member of known) predictor.add(member);
  const values = known.map((member) => truth[member]!);
  const { mean, deviation } = predictor.predict(values);

  it('agrees with the equations solved by another library', () => {
    const n = known.length;
    const covariance = new Matrix(known.map((i) => known.map((j) => alike(i, j) + (i === j ? 1e-6 : 0))));
    const column = (list: readonly number[]): Matrix => Matrix.columnVector(list);
    const ones = column(Array.from({ length: n }, () => 1));
    const against = (side: Matrix): Matrix => solve(covariance, side);
    const dot = (a: Matrix, b: Matrix): number => a.transpose().mmul(b).get(0, 0);
    const middle = dot(ones, against(column(values))) / dot(ones, against(ones));
    const rest = column(values.map((value) => value - middle));
    const scale = dot(rest, against(rest)) / n;
    points.forEach((_, i) => {
      const shared = column(known.map((j) => alike(i, j)));
      expect(mean[i]).toBeCloseTo(middle + dot(shared, against(rest)), 7);
      const variance = scale * Math.max(0, 1 - dot(shared, against(shared)));
      if (!known.includes(i)) expect(deviation[i]).toBeCloseTo(Math.sqrt(variance), 5);
    });
  });

  it('is what is known at the known ones, and certain there', () => {
    for (const member of known) {
      expect(mean[member]).toBeCloseTo(truth[member]!, 4);
      expect(deviation[member]).toBe(0);
    }
  });

  it('takes a member once, and one that is wholly like another without harm', () => {
    const twin = makePredictor(3, () => 1);
    for (const member of [0, 0, 1]) twin.add(member);
    expect(twin.known).toEqual([0, 1]);
    const found = twin.predict([2, 2]);
    expect(found.mean[2]).toBeCloseTo(2, 9);
    expect(found.deviation[2]).toBeLessThan(1e-3);
  });
});
