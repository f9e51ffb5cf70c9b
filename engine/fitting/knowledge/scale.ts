import type { UnknownRange } from '../unknowns.ts';

/**
 * How an unknown is counted inside a fit: a quantity that cannot be negative by its logarithm about its start, so that
 * its interval cannot reach below nought; any other as it is.
 */
export interface Scale {
  /** True: inside, 1 + ln(value/start). */
  readonly logarithmic: boolean;
  readonly start: number;
}

/** Logarithmic where the start and both bounds have one sign. */
export const scaleOf = ({ start, low }: UnknownRange): Scale => ({
  logarithmic: low > 0 && start > 0,
  start,
});

export const inside = ({ logarithmic, start }: Scale, value: number): number =>
  logarithmic ? 1 + Math.log(value / start) : value;

export const outside = ({ logarithmic, start }: Scale, inner: number): number =>
  logarithmic ? start * Math.exp(inner - 1) : inner;

/** d value / d inner, at a value. */
export const slopeOf = ({ logarithmic }: Scale, value: number): number => (logarithmic ? value : 1);
