import { formatQuantity } from '../base/format-quantity.ts';
import type { FailedCase } from './case-runs.ts';

/** What a window notices, in sentences. Voltages in V, referred to the sense wire. */

const volts = (value: number): string => formatQuantity(value, 'V');

export const halfSelectWords = (noise: number, limit: number): string =>
  `Half-selected cores add ${volts(noise)} to the greatest ZERO at the strobe, where less than ${volts(limit)} is due: stagger X and Y, strobe later, or wind so that they cancel.`;

/** @param recovery s, that the amplifier needs after its limit */
export const overloadWords = (value: number, recovery: number): string =>
  `At the strobe the amplifier stands at its limit for the least ONE and the greatest ZERO alike (${volts(value)} on the sense wire; it needs ${formatQuantity(recovery, 's')} to recover): what is read there is the amplifier, not the cores. Strobe later, lower its gain, or take the spike down.`;

export function failedWords({ name, outcome }: FailedCase): string {
  const advice = outcome.kind === 'done' ? '' : ` ${outcome.advice}`;
  return `Not counted: ${name} (${outcome.kind}).${advice}`;
}

/** Neither a ONE nor a ZERO could be computed for want of this run. */
export function noneWords({ name, outcome }: FailedCase): string {
  const advice = outcome.kind === 'done' ? '' : outcome.advice;
  return `No window could be computed: ${name} ended as ${outcome.kind}. ${advice}`;
}

/** @param name the case that sets the bound there; undefined where the envelope does not say */
export function falseWords(
  side: 'one' | 'zero',
  name: string | undefined,
  value: number,
  threshold: number,
): string {
  const which = name === undefined ? '' : ` (${name})`;
  return side === 'one'
    ? `The least ONE${which} is ${volts(value)} at the strobe, under the threshold of ${volts(threshold)}: it is read as a ZERO.`
    : `The greatest ZERO${which} is ${volts(value)} at the strobe, over the threshold of ${volts(threshold)}: it is read as a ONE.`;
}
