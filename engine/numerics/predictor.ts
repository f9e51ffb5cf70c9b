/**
 * What a quantity is at every member of a finite set, with how far that may be off, from its values at a few: the
 * mean and deviation of a Gaussian process of unknown mean and scale (kriging; Rasmussen & Williams, Gaussian Processes
 * for Machine Learning, 2006, eqs 2.25-2.26, from memory; held against a plain solution of the equations in its test).
 * Which values are asked for may change: what costs, the factor, depends on where they were taken alone.
 */
export interface Predictor {
  /** Members whose values are known, in the order in which they were added. */
  readonly known: readonly number[];
  /** A member becomes known; one that is known already changes nothing. */
  add(member: number): void;
  /** @param values at the known ones, in their order; at least one. */
  predict(values: ArrayLike<number>): Prediction;
}

export interface Prediction {
  readonly mean: Float64Array;
  /** One standard deviation; nought at the known ones. */
  readonly deviation: Float64Array;
}

/** Share of a variance that is added on the diagonal, so that two members that are wholly alike do no harm. */
const JITTER = 1e-6;

/** @param alike covariance of two members, in any unit: symmetric, positive semi-definite */
export function makePredictor(count: number, alike: (i: number, j: number) => number): Predictor {
  const known: number[] = [];
  const added = new Set<number>();
  /** Rows of the lower factor of the known ones' covariance, and of the same solved for all members. */
  const factor: Float64Array[] = [];
  const solved: Float64Array[] = [];
  const variance = Float64Array.from({ length: count }, (_, i) => alike(i, i));
  const explained = new Float64Array(count);
  return {
    known,
    add(member) {
      if (added.has(member)) return;
      added.add(member);
      const row = new Float64Array(count);
      for (let i = 0; i < count; i++) row[i] = alike(member, i);
      const own = new Float64Array(known.length + 1);
      for (let j = 0; j < known.length; j++) {
        const before = solved[j]!;
        const share = before[member]!;
        own[j] = share;
        for (let i = 0; i < count; i++) row[i]! -= share * before[i]!;
      }
      const pivot = Math.sqrt(Math.max(row[member]!, 0) + JITTER * variance[member]!);
      own[known.length] = pivot;
      for (let i = 0; i < count; i++) {
        row[i]! /= pivot;
        explained[i]! += row[i]! ** 2;
      }
      known.push(member);
      factor.push(own);
      solved.push(row);
    },
    predict(values) {
      const given = forward(factor, (i) => values[i]!);
      const ones = forward(factor, () => 1);
      const middle = dot(given, ones) / dot(ones, ones);
      const rest = given.map((value, i) => value - middle * ones[i]!);
      const scale = dot(rest, rest) / rest.length;
      const mean = new Float64Array(count).fill(middle);
      for (let j = 0; j < rest.length; j++) {
        const row = solved[j]!;
        for (let i = 0; i < count; i++) mean[i]! += rest[j]! * row[i]!;
      }
      const deviation = new Float64Array(count);
      for (let i = 0; i < count; i++)
        deviation[i] = Math.sqrt(scale * Math.max(0, variance[i]! - explained[i]!));
      for (const member of known) deviation[member] = 0;
      return { mean, deviation };
    },
  };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** Solves the lower factor for a right-hand side. */
function forward(factor: readonly Float64Array[], side: (i: number) => number): Float64Array {
  const x = new Float64Array(factor.length);
  factor.forEach((row, i) => {
    let value = side(i);
    for (let j = 0; j < i; j++) value -= row[j]! * x[j]!;
    x[i] = value / row[i]!;
  });
  return x;
}
