import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import type { Trace } from '../align/trace-tools.ts';
import { place, type Placed } from './place.ts';
import { asSampled, standing } from '../align/sampled.ts';
import type { Seen } from './seen.ts';

/** How one explanation lies on one capture. Samples are those of the capture. */
export interface Lies {
  /** s from the start of read. */
  readonly time: Float64Array;
  /** V, offset and gain taken off. */
  readonly measured: Float64Array;
  /** V, as the explanation predicts it, with what a healthy build may differ by. */
  readonly predicted: Float64Array;
  /** Measured less predicted, over what is allowed. */
  readonly left: Float64Array;
  /** s on the capture's axis at which the read starts. */
  readonly delay: number;
}

/** One explanation laid on all captures. */
export interface Laid {
  /** Sum of squares over what is allowed, each capture divided by how many of its samples are alike, and of what was let go. */
  readonly chiSquare: number;
  /** The same with nothing let go. */
  readonly stiff: number;
  /** The most that any one thing was let go, in its own standard deviations. */
  readonly strain: number;
  readonly severity: number | undefined;
  readonly lies: readonly Lies[];
}

/**
 * Lays predictions on captures: of each the delay, the offset and (where free) the gain that fit best, and with them, in
 * all captures alike, what a healthy build may differ by, each with a standard deviation of 1.
 */
export function layOn(runs: readonly Trace[], seen: readonly Seen[]): Omit<Laid, 'severity'> {
  const predicted = runs.map((trace, k) => asSampled(trace, seen[k].averaged));
  const placed = seen.map((s, k) => place(predicted[k], s));
  const codes = [...new Set(seen.flatMap((s) => s.leeway.map((l) => l.code)))];
  const columns = seen.map((s, k) => columnsOf(predicted[k], s, placed[k], codes));
  const own = columns.map((c) => c.own.length);
  const size = codes.length + own.reduce((a, b) => a + b, 0);
  const matrix = Matrix.zeros(size, size);
  const right = new Float64Array(size);
  codes.forEach((_, j) => matrix.set(j, j, 1));
  let whole = 0;
  let first = codes.length;
  const places = own.map((count) => (first += count) - count);
  columns.forEach(({ shared, own: mine, residual }, k) => {
    const all = shared.map((shape, j) => [j, shape] as const).filter(([, shape]) => shape !== undefined);
    mine.forEach((shape, j) => all.push([places[k] + j, shape]));
    const weight = 1 / seen[k].alike;
    for (let a = 0; a < all.length; a++) {
      const [i, x] = all[a] as readonly [number, Float64Array];
      right[i] += weight * dot(x, residual);
      for (let b = a; b < all.length; b++) {
        const [j, y] = all[b] as readonly [number, Float64Array];
        const sum = weight * dot(x, y);
        matrix.set(i, j, matrix.get(i, j) + sum);
        if (i !== j) matrix.set(j, i, matrix.get(i, j));
      }
    }
    whole += weight * dot(residual, residual);
  });
  // An offset or a shift that nothing tells would leave the factors without a root.
  for (let i = codes.length; i < size; i++) matrix.set(i, i, matrix.get(i, i) * (1 + RIDGE) + RIDGE);
  const found = Float64Array.from(
    new CholeskyDecomposition(matrix).solve(Matrix.columnVector([...right])).to1DArray(),
  );
  return {
    chiSquare: Math.max(0, whole - dot(found, right)),
    stiff: placed.reduce((sum, { chiSquare }, k) => sum + chiSquare / seen[k].alike, 0),
    strain: found.subarray(0, codes.length).reduce((most, c) => Math.max(most, Math.abs(c)), 0),
    lies: seen.map((s, k) => liesOf(s, placed[k], columns[k], found, places[k])),
  };
}

/** All over what is allowed at each sample. */
interface Columns {
  /** By code; undefined where this capture does not have it. */
  readonly shared: readonly (Float64Array | undefined)[];
  /** A later read, a greater offset, and a greater gain where it is free. */
  readonly own: readonly Float64Array[];
  readonly residual: Float64Array;
  readonly predicted: Float64Array;
}

const RIDGE = 1e-9;
/** s: of how much a shift is let go further about where a capture lies. */
const SHIFT = 1e-9;

function columnsOf(
  predicted: Trace,
  s: Seen,
  { delay, offset, gain }: Placed,
  codes: readonly string[],
): Columns {
  const { time, value } = s.trace;
  const on = (trace: Trace, later = 0): Float64Array =>
    time.map((t, i) => (gain * standing(trace, t - delay - later)) / s.sigma[i]);
  const bare = on(predicted);
  const later = on(predicted, SHIFT);
  const shapes = new Map(s.leeway.map(({ code, shape }) => [code, shape]));
  return {
    shared: codes.map((code) => {
      const shape = shapes.get(code);
      return shape && on(shape);
    }),
    own: [later.map((v, i) => v - bare[i]), s.sigma.map((sigma) => 1 / sigma), ...(s.freeGain ? [bare] : [])],
    residual: value.map((v, i) => (v - offset) / s.sigma[i] - bare[i]),
    predicted: bare,
  };
}

function liesOf(
  s: Seen,
  { delay, offset, gain }: Placed,
  c: Columns,
  found: Float64Array,
  place: number,
): Lies {
  const model = Float64Array.from(c.predicted);
  c.shared.forEach((shape, j) => {
    if (shape !== undefined) for (let i = 0; i < model.length; i++) model[i] += found[j] * shape[i];
  });
  const own = new Float64Array(model.length);
  c.own.forEach((shape, j) => {
    for (let i = 0; i < own.length; i++) own[i] += found[place + j] * shape[i];
  });
  const shift = found[place] * SHIFT;
  return {
    delay: delay + shift,
    time: s.trace.time.map((t) => t - delay - shift),
    measured: s.trace.value.map((v, i) => (v - offset - own[i] * s.sigma[i]) / gain),
    predicted: model.map((v, i) => (v * s.sigma[i]) / gain),
    left: model.map((v, i) => (s.trace.value[i] - offset) / s.sigma[i] - v - own[i]),
  };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
