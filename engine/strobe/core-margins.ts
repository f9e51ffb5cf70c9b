import { lopsidedInterval } from '../numerics/lopsided-interval.ts';
import type { Interval } from '../numerics/statistics.ts';
import { valueAt } from '../sense-amplifier/detector.ts';
import type { StrobeUncertainties } from './envelope.ts';
import type { CoreSet, CoreTraces, OpenParameter } from './open-core.ts';
import { isUnknownHeat } from './unknown-heat.ts';
import type { CoreVerdict } from './verdict-of-sets.ts';

/** What a core set leaves on either side, and over both, V. */
export interface CoreMargins {
  readonly verdict: Omit<CoreVerdict, 'verdict'>;
  readonly one: number;
  readonly zero: number;
  /** Least margin with the temperature coefficients that nothing is known of at either end; undefined: none such. */
  readonly unknownHeat: number | undefined;
}

/**
 * The interval of the corner margin over what is not known of the core, at a strobe and threshold: where 95 of 100 of the
 * cores it could be lie (from the draws, each side by itself, and no narrower than the ends of any one range).
 *
 * @param corners the corner margin of the design's own core: left, one, zero, each less the uncertainty, V
 */
export function coreMargins(
  set: CoreSet,
  time: Float64Array,
  strobe: { readonly time: number; readonly threshold: number; readonly found: boolean },
  wide: StrobeUncertainties,
  corners: { readonly left: number; readonly one: number; readonly zero: number },
): CoreMargins {
  const sides = ({ one, zero, later }: CoreTraces): { one: number; zero: number; left: number } => {
    const t = strobe.time + (strobe.found ? later : 0) - wide.delay;
    const level = strobe.threshold + wide.slope * Math.max(0, t);
    const a = valueAt(time, one, t) - level - wide.threshold;
    const b = level - valueAt(time, zero, t) - wide.threshold;
    return { one: a, zero: b, left: Math.min(a, b) };
  };
  const drawn = set.draws.map(sides);
  const interval = (
    of: (item: { one: number; zero: number; left: number }) => number,
    own: number,
  ): Interval => {
    const { low, high } = lopsidedInterval(drawn.map(of)) ?? { low: own, high: own };
    return { low: Math.min(own, low), high: Math.max(own, high) };
  };
  const drawnInterval = interval(({ left }) => left, corners.left);
  const ends = set.ends.map(({ of, low: atLow, high: atHigh }) => {
    const margins = [atLow, atHigh].map((traces) => (traces ? sides(traces).left : corners.left));
    return { of, margins, effect: Math.abs(margins[0]! - margins[1]!) / 2 };
  });
  const low = Math.min(drawnInterval.low, ...ends.flatMap(({ margins }) => margins));
  const high = Math.max(drawnInterval.high, ...ends.flatMap(({ margins }) => margins));
  const worst = ends
    .flatMap(({ of, margins }) => [
      { parameter: of.parameter, value: of.low, margin: margins[0]! },
      { parameter: of.parameter, value: of.high, margin: margins[1]! },
    ])
    .reduce<{ parameter: string; value: number; margin: number } | undefined>(
      (least, end) => (end.margin < (least?.margin ?? corners.left) ? end : least),
      undefined,
    );
  const blind = ends.filter(({ of }) => isUnknownHeat(of));
  return {
    verdict: {
      low,
      high,
      worst: worst ? { parameter: worst.parameter, value: worst.value } : null,
      measureNext: measureNext(ends, [low, high], corners.left),
    },
    one: interval(({ one }) => one, corners.one).low,
    zero: interval(({ zero }) => zero, corners.zero).low,
    unknownHeat: blind.length === 0 ? undefined : Math.min(...blind.flatMap(({ margins }) => margins)),
  };
}

/**
 * The measurement whose parameters carry most of the variance, and the interval that is left when it has found the design's
 * own core: the variance of the others, taken as independent, and no narrower than the ends of any one of them.
 */
function measureNext(
  ends: readonly {
    readonly of: OpenParameter;
    readonly margins: readonly number[];
    readonly effect: number;
  }[],
  [low, high]: readonly [number, number],
  own: number,
): CoreVerdict['measureNext'] {
  const total = ends.reduce((sum, { effect }) => sum + effect ** 2, 0);
  if (total === 0) return null;
  const shares = new Map<string, number>();
  for (const { of, effect } of ends)
    shares.set(of.measure, (shares.get(of.measure) ?? 0) + effect ** 2 / total);
  const [what, share] = [...shares].reduce((most, item) => (item[1] > most[1] ? item : most));
  const left = Math.sqrt(Math.max(0, 1 - share));
  const others = ends.filter(({ of }) => of.measure !== what).flatMap(({ margins }) => margins);
  return {
    what,
    narrowsTo: [
      Math.min(own - (own - low) * left, ...others),
      Math.max(own + (high - own) * left, ...others),
    ],
  };
}
