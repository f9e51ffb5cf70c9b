/** Samples of one comparison that an answer holds at most. */
export const MOST_SAMPLES = 20_000;

interface Sampled {
  readonly time: Float64Array;
  readonly measured: Float64Array;
  readonly predicted: Float64Array;
  readonly difference: Float64Array;
}

/**
 * A comparison short enough to send: of more than `most` samples those with the least and the greatest difference of
 * each of most / 2 equal parts, in their order, so that no peak is lost. `samplesCompared` then says of how many they
 * are; figures such as `rms` stay those of all.
 */
export function thinComparison<C extends Sampled>(
  comparison: C,
  most = MOST_SAMPLES,
): C & { readonly samplesCompared?: number } {
  const { length } = comparison.time;
  if (length <= most) return comparison;
  const parts = Math.floor(most / 2);
  const kept: number[] = [];
  for (let part = 0; part < parts; part++) {
    const from = Math.floor((part * length) / parts);
    const to = Math.floor(((part + 1) * length) / parts);
    const [low, high] = extremes(comparison.difference, from, to);
    kept.push(...(low === high ? [low] : [Math.min(low, high), Math.max(low, high)]));
  }
  const pick = (values: Float64Array): Float64Array => Float64Array.from(kept, (i) => values[i]);
  return {
    ...comparison,
    time: pick(comparison.time),
    measured: pick(comparison.measured),
    predicted: pick(comparison.predicted),
    difference: pick(comparison.difference),
    samplesCompared: length,
  };
}

function extremes(values: Float64Array, from: number, to: number): [low: number, high: number] {
  let low = from;
  let high = from;
  for (let i = from + 1; i < to; i++) {
    if (values[i] < values[low]) low = i;
    if (values[i] > values[high]) high = i;
  }
  return [low, high];
}
