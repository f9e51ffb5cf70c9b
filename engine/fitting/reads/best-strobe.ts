/** Reads of known ONEs and of known ZEROs at the same instants: V as the detector hears them, one array a read. */
export interface HeardReads {
  /** s from the start of read. */
  readonly time: Float64Array;
  readonly ones: readonly Float64Array[];
  readonly zeros: readonly Float64Array[];
}

/** Least, mean and greatest of many reads at every instant, V. */
export interface Band {
  readonly least: Float64Array;
  readonly mean: Float64Array;
  readonly greatest: Float64Array;
}

export function bandOf(reads: readonly Float64Array[]): Band {
  const over = (of: (values: readonly number[]) => number): Float64Array =>
    reads[0].map((_, i) => of(reads.map((read) => read[i])));
  return {
    least: over((v) => v.reduce((m, x) => Math.min(m, x), Infinity)),
    mean: over((v) => v.reduce((sum, x) => sum + x, 0) / v.length),
    greatest: over((v) => v.reduce((m, x) => Math.max(m, x), -Infinity)),
  };
}

/**
 * Strobe and threshold that part the reads best: where the least ONE is farthest over the greatest ZERO, half-way
 * between the two. Where they overlap everywhere it is the instant of the least overlap.
 * @returns index of the instant, and V
 */
export function bestPair({ ones, zeros }: HeardReads): { readonly at: number; readonly threshold: number } {
  const [one, zero] = [bandOf(ones).least, bandOf(zeros).greatest];
  let at = 0;
  for (let i = 1; i < one.length; i++) if (one[i] - zero[i] > one[at] - zero[at]) at = i;
  return { at, threshold: (one[at] + zero[at]) / 2 };
}

/** Every other read, the rest of them. */
export const halvesOf = ({ time, ones, zeros }: HeardReads): readonly [HeardReads, HeardReads] => {
  const part = (rest: number): HeardReads => ({
    time,
    ones: ones.filter((_, i) => i % 2 === rest),
    zeros: zeros.filter((_, i) => i % 2 === rest),
  });
  return [part(0), part(1)];
};

/** How many reads a pair takes for the wrong bit. */
export const wrongAt = (
  { ones, zeros }: HeardReads,
  { at, threshold }: { readonly at: number; readonly threshold: number },
): number =>
  ones.filter((read) => read[at] <= threshold).length + zeros.filter((read) => read[at] > threshold).length;
