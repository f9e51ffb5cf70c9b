import type { Laid } from './lay.ts';

/** Chi-square by which the ends of a 95 % interval of one number lie worse than the best. */
const ENDS = 3.84;

export interface SeverityInterval {
  readonly low: number;
  readonly high: number;
}

/**
 * 95 % interval of a severity, from what was laid on the way to the best: where chi-square, over the best one's misfit where
 * that is more than 1, has risen by 3.84. Between what was laid its root is taken as straight; where it has not risen so far
 * by the end of what was tried, that end is told.
 * @param misfit of the best: mean square of what is left over what is allowed
 */
export function severityInterval(known: readonly Laid[], best: Laid, misfit: number): SeverityInterval {
  const at = best.severity as number;
  const rise = ({ chiSquare }: Laid): number =>
    Math.sqrt(Math.max(0, chiSquare - best.chiSquare) / Math.max(1, misfit));
  const end = (side: -1 | 1): number => {
    const beyond = known
      .filter(({ severity }) => side * ((severity as number) - at) > 0)
      .sort((a, b) => side * ((a.severity as number) - (b.severity as number)));
    let [from, low] = [at, 0];
    for (const laid of beyond) {
      const [to, high] = [laid.severity as number, rise(laid)];
      if (high >= Math.sqrt(ENDS)) return from + ((to - from) * (Math.sqrt(ENDS) - low)) / (high - low);
      [from, low] = [to, Math.max(low, high)];
    }
    return from;
  };
  return { low: end(-1), high: end(1) };
}
