/** What a row of residuals tells. */
export interface Information {
  /** How much less it tells than its number says: 1 or more. */
  readonly inflation: number;
  /** Stretches of it that are independent: samples where neighbours are not alike. */
  readonly stretches: number;
}

/**
 * How much less a row of residuals tells than its number says: 1 for white noise of the stated size; more where
 * neighbouring residuals are alike, or greater than the noise. The variance of their mean over that of white noise:
 * autocovariances summed as long as pairs of them stay positive (Geyer, Statistical Science 7, 1992, p. 477), with
 * the parameters that were fitted taken off the number of independent stretches.
 * @param residuals in standard deviations of the noise
 */
export function informationIn(residuals: Float64Array, parameters: number): Information {
  const n = residuals.length;
  const covariance = (lag: number): number => {
    let sum = 0;
    for (let i = lag; i < n; i++) sum += residuals[i] * residuals[i - lag];
    return sum / n;
  };
  const whole = covariance(0);
  if (!(whole > 0)) return { inflation: 1, stretches: n };
  let sum = whole;
  for (let lag = 1; lag + 1 < n / 4; lag += 2) {
    const pair = covariance(lag) + covariance(lag + 1);
    if (pair <= 0) break;
    sum += 2 * pair;
  }
  const stretches = Math.max(1, (n * whole) / sum);
  const left = Math.max(1, stretches - parameters);
  return { inflation: Math.max(1, (sum * stretches) / left), stretches };
}
