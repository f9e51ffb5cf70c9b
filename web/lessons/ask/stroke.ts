/** A place on an empty plot: s across, V up. */
export interface Spot {
  readonly time: number;
  readonly value: number;
}

/** Heights after a pointer went from one place to another: each point that it passed stands where it was crossed. */
export const strokeAcross = (
  at: readonly number[],
  values: readonly number[],
  from: Spot,
  to: Spot,
): readonly number[] =>
  values.map((value, k) => {
    const part = (at[k]! - from.time) / (to.time - from.time);
    return part >= 0 && part <= 1 ? from.value + part * (to.value - from.value) : value;
  });

/** The point nearest to an instant. */
export const nearestPoint = (at: readonly number[], time: number): number =>
  at.reduce((best, each, k) => (Math.abs(each - time) < Math.abs(at[best]! - time) ? k : best), 0);
