import { formatQuantity } from '../base/format-quantity.ts';
import type { WordsFor } from './words-for.ts';

const volts = (value: number): string => formatQuantity(value, 'V');
const seconds = (value: number): string => formatQuantity(value, 's');

export const senseWords: WordsFor<
  'recovery' | 'strobe-outside-read' | 'threshold-above-one' | 'amplifier-saturates' | 'mismatch' | 'sag'
> = {
  recovery: ({ used, limit, facts }) => ({
    message: `The inhibit leaves ${volts(facts.start)} that take ${seconds(facts.time)} to fall under ${volts(facts.target)}${facts.overhead > 0 ? `, and the machine needs ${seconds(facts.overhead)} of its own` : ''}, so a cycle needs ${seconds(used)}, but the period is ${seconds(limit)}.`,
    remedy: 'Lengthen the period, damp the wire with its terminations, or clamp it.',
  }),
  'strobe-outside-read': ({ used, facts }) => ({
    message: `The strobe at ${seconds(used)} lies outside the read, which the latch hears from ${seconds(facts.from)} until the drive starts to fall at ${seconds(facts.to)}.`,
    remedy: 'Strobe while the selected core switches.',
  }),
  'threshold-above-one': ({ used, limit }) => ({
    message: `The threshold is ${volts(used)}, but a ONE is predicted to reach ${volts(limit)} at the amplifier.`,
    remedy: 'Lower the threshold to about half of a ONE, or raise the drive.',
  }),
  'amplifier-saturates': ({ limit, facts: { one, threshold } }) => ({
    message: `The amplifier limits at ${volts(limit)} on the sense wire, but ${one > limit ? `a ONE is predicted to reach ${volts(one)}` : `the threshold is ${volts(threshold)}`}.`,
    remedy: 'Lower the gain, or divide the input.',
  }),
  mismatch: ({ facts: { end, load, impedance, echo } }) => ({
    message: `End ${end} of the wire reflects ${formatQuantity((100 * (load - impedance)) / (load + impedance), '1', 2)} % (${formatQuantity(load, 'ohm')} on a line of ${formatQuantity(impedance, 'ohm')}), and the echo returns after ${seconds(echo)}, not short beside the edges.`,
    remedy: `Terminate with about ${formatQuantity(impedance, 'ohm', 2)}.`,
  }),
  sag: ({ used, limit, facts }) => ({
    message: `AC coupling at ${formatQuantity(facts.corner, 'Hz')} lets a ONE of ${seconds(facts.width)} sag by ${formatQuantity(100 * used, '1', 2)} %, more than ${100 * limit} %.`,
    remedy: 'Lower the corner of the AC coupling.',
  }),
};
