/** Uniform instants 0, step, 2 step ... up to `end`, s. */
export function sampleTimes(end: number, step: number): Float64Array {
  const n = Math.floor(end / step + 1e-9) + 1;
  return Float64Array.from({ length: n }, (_, i) => i * step);
}

/**
 * Values at `wanted` (increasing, inside the span of `time`), straight between the solver's instants, which lie
 * close wherever a trace bends. Linear, so that what sums on the solver's instants sums here too.
 */
export function resample(time: Float64Array, values: Float64Array, wanted: Float64Array): Float64Array {
  const out = new Float64Array(wanted.length);
  const last = time.length - 1;
  let k = 0;
  for (let i = 0; i < wanted.length; i++) {
    const t = wanted[i]!;
    while (k < last - 1 && time[k + 1]! <= t) k++;
    const t0 = time[k]!;
    const v0 = values[k]!;
    out[i] = last === 0 ? v0 : v0 + ((values[k + 1]! - v0) * (t - t0)) / (time[k + 1]! - t0);
  }
  return out;
}
