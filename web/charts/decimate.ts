/** Uniform samples: `values[i]` at `start + i * step`. */
export interface Samples {
  readonly start: number;
  readonly step: number;
  readonly values: ArrayLike<number>;
}

/** Index of the first and one past the last sample needed to draw [from, to], one neighbour beyond each end. */
export function sampleRange(samples: Samples, from: number, to: number): readonly [number, number] {
  const { start, step, values } = samples;
  const first = Math.max(0, Math.floor((from - start) / step) - 1);
  const last = Math.min(values.length, Math.ceil((to - start) / step) + 2);
  return [Math.min(first, values.length), Math.max(last, 0)];
}

/**
 * Points to draw, at most four per pixel column (first, least, greatest, last, in order of occurrence), so that
 * no peak is lost however many samples share a column. Returns alternating time and value.
 */
export function decimate(samples: Samples, from: number, to: number, pixels: number): Float64Array {
  const { start, step, values } = samples;
  const [first, last] = sampleRange(samples, from, to);
  const count = last - first;
  if (count <= 0) return new Float64Array(0);
  if (count <= 4 * pixels) {
    const all = new Float64Array(2 * count);
    for (let i = 0; i < count; i++) {
      all[2 * i] = start + (first + i) * step;
      all[2 * i + 1] = values[first + i]!;
    }
    return all;
  }
  const out: number[] = [];
  const perColumn = count / pixels;
  for (let column = 0; column < pixels; column++) {
    const a = first + Math.floor(column * perColumn);
    const b = Math.min(last, first + Math.floor((column + 1) * perColumn));
    let low = a;
    let high = a;
    for (let i = a; i < b; i++) {
      if (values[i]! < values[low]!) low = i;
      if (values[i]! > values[high]!) high = i;
    }
    let previous = -1;
    for (const i of [a, Math.min(low, high), Math.max(low, high), b - 1]) {
      if (i === previous) continue;
      out.push(start + i * step, values[i]!);
      previous = i;
    }
  }
  return Float64Array.from(out);
}

/** Least and greatest sample within [from, to]; undefined when none lies there. */
export function extent(samples: Samples, from: number, to: number): readonly [number, number] | undefined {
  const [first, last] = sampleRange(samples, from, to);
  let low = Infinity;
  let high = -Infinity;
  for (let i = first; i < last; i++) {
    const t = samples.start + i * samples.step;
    if (t < from || t > to) continue;
    low = Math.min(low, samples.values[i]!);
    high = Math.max(high, samples.values[i]!);
  }
  return low <= high ? [low, high] : undefined;
}

/** Value at a time by straight line between neighbours, held beyond the ends. */
export function sampleAt(samples: Samples, time: number): number {
  const { start, step, values } = samples;
  const position = Math.min(Math.max((time - start) / step, 0), values.length - 1);
  const i = Math.min(Math.floor(position), values.length - 2);
  if (values.length < 2) return values[0] ?? NaN;
  const fraction = position - i;
  return values[i]! * (1 - fraction) + values[i + 1]! * fraction;
}
