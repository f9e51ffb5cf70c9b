/** Uniform instants 0, step, 2 step ... up to `end`, s. */
export function sampleTimes(end: number, step: number): Float64Array {
  const n = Math.floor(end / step + 1e-9) + 1;
  const time = new Float64Array(n);
  for (let i = 0; i < n; i++) time[i] = i * step;
  return time;
}

/**
 * What takes values at the solver's instants `time` to the instants `wanted` (increasing, inside the span): a cubic
 * through four neighbours, a straight line where a slope jump leaves no four of one smooth piece. Linear in the
 * values, so that what sums on the solver's instants sums here too.
 * @param jumps 1 where the step that starts at the instant begins after a slope jump: the value there belongs to what
 *   went before
 */
export function makeResampler(
  time: Float64Array,
  jumps: Uint8Array,
  wanted: Float64Array,
): (values: Float64Array) => Float64Array {
  const first = new Int32Array(wanted.length);
  const weights = new Float64Array(4 * wanted.length);
  const cubicWeights = makeCubicWeights(time, weights);
  const last = time.length - 1;
  for (let i = 0, k = 0; i < wanted.length; i++) {
    const t = wanted[i]!;
    while (k < last - 1 && time[k + 1]! <= t) k++;
    const start = stencil(jumps, k, last);
    first[i] = start < 0 ? k : start;
    if (start >= 0) cubicWeights(start, t, 4 * i);
    else {
      const share = last === 0 ? 0 : (t - time[k]!) / (time[k + 1]! - time[k]!);
      weights[4 * i] = 1 - share;
      weights[4 * i + 1] = share;
    }
  }
  return (values) => {
    const out = new Float64Array(wanted.length);
    for (let i = 0, at = 0; i < wanted.length; i++, at += 4) {
      const k = first[i]!;
      let sum = weights[at]! * values[k]!;
      // Past the end only weights of nothing are left.
      const most = Math.min(3, last - k);
      for (let j = 1; j <= most; j++) sum += weights[at + j]! * values[k + j]!;
      out[i] = sum;
    }
    return out;
  };
}

/** First of four instants of one smooth piece around the step from k on, that step in the middle if possible; -1: none. */
function stencil(jumps: Uint8Array, k: number, last: number): number {
  for (const start of [k - 1, k - 2, k]) {
    if (start < 0 || start + 3 > last) continue;
    if (jumps[start] === 0 && jumps[start + 1] === 0 && jumps[start + 2] === 0) return start;
  }
  return -1;
}

/** Fills the weights of the cubic through four instants at instants t one after another: `scale` serves those of one start. */
function makeCubicWeights(time: Float64Array, to: Float64Array) {
  const scale = new Float64Array(4);
  let scaled = -1;
  return (start: number, t: number, at: number): void => {
    const t0 = time[start]!;
    const t1 = time[start + 1]!;
    const t2 = time[start + 2]!;
    const t3 = time[start + 3]!;
    if (start !== scaled) {
      scaled = start;
      scale[0] = 1 / ((t0 - t1) * (t0 - t2) * (t0 - t3));
      scale[1] = 1 / ((t1 - t0) * (t1 - t2) * (t1 - t3));
      scale[2] = 1 / ((t2 - t0) * (t2 - t1) * (t2 - t3));
      scale[3] = 1 / ((t3 - t0) * (t3 - t1) * (t3 - t2));
    }
    const left = (t - t0) * (t - t1);
    const right = (t - t2) * (t - t3);
    to[at] = scale[0]! * (t - t1) * right;
    to[at + 1] = scale[1]! * (t - t0) * right;
    to[at + 2] = scale[2]! * left * (t - t3);
    to[at + 3] = scale[3]! * left * (t - t2);
  };
}
