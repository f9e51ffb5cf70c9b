import type { Problem } from './run-problem.ts';
import type { WireState } from './wire-state.ts';

/** The five causes, in the order of CONTRIBUTIONS. */
export const DIRECT = 0;
export const REVERSIBLE = 1;
export const IRREVERSIBLE = 2;
export const CORE = 3;
export const INHIBIT = 4;
export const PARTS = 5 as const;

/**
 * Splits the wire's voltage by cause. Once a step of the coupled run is solved, its inductances are frozen and the
 * step is linear in its sources, so each cause p runs through the same factored ladder with its own share:
 *
 *     L D[lag_p] + E_p = v_p,k - v_p,k+1 - R j_p,    lag_p: its current with the ferrite's lag, A;  E_p: its EMF, V
 *
 * L holds the wire and every core's own elastic answer to the wire's current. The shares E_p sum to what the coupled
 * step had, hence the voltages sum to its voltage.
 */
export interface Split {
  /** Current of every section by cause, with the ferrite's lag. */
  readonly lag: Float64Array;
  readonly lagPast: Float64Array;
  /** a1 lag + a2 lagPast in the step under way. */
  readonly lagMix: Float64Array;
  /** Voltage of every node by cause: node * PARTS + part. */
  readonly v: Float64Array;
  readonly vPast: Float64Array;
  readonly W: Float64Array;
  readonly rhs: Float64Array;
}

function makeSplit(nodes: number): Split {
  const make = (): Float64Array => new Float64Array(nodes * PARTS);
  return { lag: make(), lagPast: make(), lagMix: make(), v: make(), vPast: make(), W: make(), rhs: make() };
}

/**
 * A split that goes on from where the wire stands. It begins so many cycles before the observed one (splitCycles) that what
 * still flows from cycles before that is less than a billionth of what it was; that little is booked as inhibit.
 */
export function beginSplit(wire: WireState): Split {
  const split = makeSplit(wire.sections.count + 1);
  for (let k = 0; k <= wire.sections.count; k++) {
    split.lag[k * PARTS + INHIBIT] = wire.lag[k]!;
    split.v[k * PARTS + INHIBIT] = wire.v[k]!;
  }
  return split;
}

/**
 * How many cycles before the observed one the split begins, so that the tails of earlier cycles are told by their own causes:
 * each cause as it was in its own cycle, the selected core that cycle's.
 */
export const splitCycles = ({ rule, period }: Pick<Problem, 'rule' | 'period'>): number =>
  rule.fade > 0 ? Math.max(1, Math.ceil(Math.log(1e9) / (rule.fade * period))) : Infinity;
