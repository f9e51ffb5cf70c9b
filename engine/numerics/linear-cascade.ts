/**
 * A high-pass followed by up to two low-pass poles, driven by an input that is a straight line between samples.
 * The step is the exact solution of the state equations, so that it has no step error whatever the time constants
 * (repeated poles included). Angular frequencies in 1/s; a high-pass of 0 and a pole of Infinity are left out.
 *
 *     q'  = w_h (x - q)            v = x - q      (coupling capacitor; absent for w_h = 0)
 *     y1' = w_1 (v - y1)
 *     y2' = w_2 (y1 - y2)
 */
export interface Cascade {
  readonly highPass: number;
  readonly poles: readonly number[];
}

/** One step of fixed length: state' = A state + atStart x_k + perStep (x_{k+1} - x_k). */
interface CascadeStep {
  readonly size: number;
  readonly transition: Float64Array;
  readonly atStart: Float64Array;
  readonly perStep: Float64Array;
}

/** The poles that exist: finite ones, at most two. */
export function makeCascade(highPass: number, poles: readonly number[]): Cascade {
  return { highPass, poles: poles.filter((w) => Number.isFinite(w)) };
}

/** Exact step of length h (s), by the exponential of the state matrix bordered with the input and its slope. */
function cascadeStep(cascade: Cascade, h: number): CascadeStep {
  const coupled = cascade.highPass > 0 ? 1 : 0;
  const size = coupled + cascade.poles.length;
  const n = size + 2;
  const m = new Float64Array(n * n);
  if (coupled) {
    m[0] = -cascade.highPass * h;
    m[size] = cascade.highPass * h;
  }
  cascade.poles.forEach((w, i) => {
    const row = (coupled + i) * n;
    m[row + coupled + i] = -w * h;
    if (i > 0) m[row + coupled + i - 1] = w * h;
    else {
      m[row + size] = w * h;
      if (coupled) m[row] = -w * h;
    }
  });
  m[size * n + size + 1] = 1;
  const e = exponential(m, n);
  const pick = (column: number): Float64Array =>
    Float64Array.from({ length: size }, (_, i) => e[i * n + column]);
  return {
    size,
    transition: Float64Array.from(
      { length: size * size },
      (_, k) => e[Math.floor(k / size) * n + (k % size)],
    ),
    atStart: pick(size),
    perStep: pick(size + 1),
  };
}

/** State in which nothing moves while the input rests at `input` and the capacitor holds `coupling`. */
export function cascadeState(cascade: Cascade, input: number, coupling: number): Float64Array {
  const coupled = cascade.highPass > 0;
  const v = coupled ? input - coupling : input;
  return Float64Array.from([...(coupled ? [coupling] : []), ...cascade.poles.map(() => v)]);
}

/**
 * Response to samples at uniform times h apart; `state` is advanced to the last sample. The result has the length
 * of the input; its first value is the output of the state as given.
 */
export function runCascade(
  cascade: Cascade,
  h: number,
  input: Float64Array,
  state: Float64Array,
): Float64Array {
  const { size, transition, atStart, perStep } = cascadeStep(cascade, h);
  const output = new Float64Array(input.length);
  const next = new Float64Array(size);
  const last = size - 1;
  const direct = cascade.poles.length === 0;
  for (let k = 0; k < input.length; k++) {
    output[k] = direct ? input[k] - (size > 0 ? state[0] : 0) : state[last];
    if (k === input.length - 1) break;
    const slope = input[k + 1] - input[k];
    for (let i = 0; i < size; i++) {
      let sum = atStart[i] * input[k] + perStep[i] * slope;
      for (let j = 0; j < size; j++) sum += transition[i * size + j] * state[j];
      next[i] = sum;
    }
    state.set(next);
  }
  return output;
}

/** Matrix exponential by scaling, Taylor series and squaring; n is five at most. */
function exponential(m: Float64Array, n: number): Float64Array {
  let norm = 0;
  for (let i = 0; i < n; i++) {
    let row = 0;
    for (let j = 0; j < n; j++) row += Math.abs(m[i * n + j]);
    norm = Math.max(norm, row);
  }
  const squarings = Math.max(0, Math.ceil(Math.log2(norm)) + 2);
  const scaled = m.map((value) => value / 2 ** squarings);
  let sum = identity(n);
  let term = identity(n);
  for (let k = 1; k <= 16; k++) {
    term = multiply(term, scaled, n).map((value) => value / k);
    sum = sum.map((value, i) => value + term[i]);
  }
  for (let k = 0; k < squarings; k++) sum = multiply(sum, sum, n);
  return sum;
}

function identity(n: number): Float64Array {
  return Float64Array.from({ length: n * n }, (_, k) => (k % (n + 1) === 0 ? 1 : 0));
}

function multiply(a: Float64Array, b: Float64Array, n: number): Float64Array {
  const product = new Float64Array(n * n);
  for (let row = 0; row < n; row++)
    for (let column = 0; column < n; column++) {
      let sum = 0;
      for (let j = 0; j < n; j++) sum += a[row * n + j] * b[j * n + column];
      product[row * n + column] = sum;
    }
  return product;
}
