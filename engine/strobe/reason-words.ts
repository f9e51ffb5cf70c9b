import type { Closed } from './window-reason.ts';
import { formatQuantity } from '../base/format-quantity.ts';
import { CAUSE_NAMES, CONTRIBUTIONS } from '../network/causes.ts';
import { dominantPart } from './parts.ts';
import type { WindowAnswer } from './window-result.ts';
import type { StrobeWindow } from './window-result.ts';

const volts = (value: number): string => formatQuantity(value, 'V');

const LIMITED = 'the amplifier at its limit or recovering from it';

/**
 * Which contribution takes most of the ONE, or leads the ZERO, whichever closes the window; else nothing.
 * @param overload V that the amplifier's limits and recovery add to either
 */
export function blame(
  { closedBy, inForce }: WindowAnswer,
  { one, zero }: StrobeWindow['atStrobe'],
  overload: Readonly<Record<'one' | 'zero', number>>,
): string {
  const at = formatQuantity(inForce.time, 's');
  if (closedBy === 'zero') {
    const leader = dominantPart(zero);
    if (overload.zero > zero[leader])
      return `At ${at} the greatest ZERO is led by ${LIMITED} (${volts(overload.zero)}).`;
    return `At ${at} the greatest ZERO is led by ${CAUSE_NAMES[leader].phrase} (${volts(zero[leader])}).`;
  }
  if (closedBy !== 'one') return '';
  const taker = CONTRIBUTIONS.reduce((most, name) => (one[name] < one[most] ? name : most));
  // What is at its limit is less than its parts: the core's would be told to give more than there is.
  if (overload.one < one[taker] && overload.one < -0.01 * Math.abs(one.selectedCore))
    return `At ${at} ${LIMITED} takes ${volts(-overload.one)} from the least ONE.`;
  const own = `At ${at} ${CAUSE_NAMES.selectedCore.phrase} gives ${volts(one.selectedCore)} of the least ONE`;
  return taker === 'selectedCore' || one[taker] > -0.01 * Math.abs(one.selectedCore)
    ? `${own}.`
    : `${own}, and ${CAUSE_NAMES[taker].phrase} takes ${volts(-one[taker])} from it.`;
}

/** A pair that passes with the stated uncertainties, where the threshold in force has none. */
export function wayOut({ closedBy }: WindowAnswer, best: StrobeWindow['bestPair']): string {
  if (closedBy === undefined || best === undefined || best.distance < 1) return '';
  return `A strobe at ${formatQuantity(best.time, 's')} with a threshold of ${volts(best.threshold)} would pass.`;
}

const seconds = (value: number): string => formatQuantity(value, 's');

/** What keeps every strobe from passing. */
export function closedSentence(closed: Closed): string {
  const threshold = volts(closed.threshold);
  switch (closed.why) {
    case 'one-too-low':
      return `No window: the least ONE is at most ${volts(closed.peak)} (at ${seconds(closed.time)}), under the threshold of ${threshold}.`;
    case 'other-threshold':
      return `No window at a threshold of ${threshold}: wherever the least ONE is above it, the greatest ZERO is too; at ${seconds(closed.time)} a threshold between ${volts(closed.low)} and ${volts(closed.high)} would do.`;
    case 'zero-above-one':
      return `No window at any threshold: the greatest ZERO is above the least ONE at every instant of the read; at ${seconds(closed.time)}, where ONEs and ZEROs differ most, the least ONE is ${volts(closed.one)} and the greatest ZERO ${volts(closed.zero)}.`;
    case 'threshold-uncertain':
      return `No window: the threshold of ${threshold} is known only to ±${volts(closed.uncertainty)}, more than ONE and ZERO leave on one of its sides.`;
    case 'too-narrow':
      return `No window: aperture and jitter take ${seconds(closed.width)}, longer than any interval that passes.`;
  }
}
