import { formatQuantity } from '../base/format-quantity.ts';
import type { Constraint } from '../estimates/constraints/constraint.ts';
import type { WordsFor } from './words-for.ts';
import type { Words } from './words-for.ts';

const volts = (value: number): string => formatQuantity(value, 'V');
const seconds = (value: number): string => formatQuantity(value, 's');
const percent = (value: number): string => `${formatQuantity(100 * value, '1', 2)} %`;
const capital = (text: string): string => `${text[0]!.toUpperCase()}${text.slice(1)}`;

export const driveWords: WordsFor<
  | 'inhibit-late'
  | 'inhibit-short'
  | 'disturb-meets-inhibit'
  | 'line-volts'
  | 'inhibit-volts'
  | 'inhibit-clamp'
  | 'turn-off-kick'
  | 'supply-voltage'
  | 'dissipation'
  | 'tracking'
> = {
  'inhibit-late': ({ used }) => ({
    message: `The inhibit reaches its full current ${seconds(used)} after the write pulse starts to rise.`,
    remedy: `Lengthen the lead by ${seconds(used)}.`,
  }),
  'inhibit-short': ({ used }) => ({
    message: `The inhibit starts to fall ${seconds(used)} before the write pulse is over.`,
    remedy: `Lengthen the lag by ${seconds(used)}.`,
  }),
  'disturb-meets-inhibit': ({ used, facts }) => ({
    message: `The post-write disturb starts ${seconds(used)} before the inhibit is over, and the two add to ${formatQuantity(facts.sum, 'A')} in half-selected cores.`,
    remedy: `Lengthen the gap before the disturb by ${seconds(used)}.`,
  }),
  'line-volts': (c) => voltWords(c, 'so the current rises more slowly than asked.'),
  'inhibit-volts': (c) =>
    voltWords(c, 'so the current rises more slowly than asked; the predicted traces take it as asked.'),
  'inhibit-clamp': ({ used, limit }) => ({
    message: `Driving the inhibit puts ${volts(used)} on an end of the wire, but the clamp there holds ${volts(limit)} and takes the current past the cores.`,
    remedy: 'Take a higher clamp, slow the inhibit edge, or thicken the wire.',
  }),
  'turn-off-kick': ({ used, limit, facts }) => ({
    message: `Turning ${facts.line} off in ${seconds(facts.fall)} kicks ${volts(used)}, and the clamp holds ${volts(limit)}, so the current falls more slowly than asked.`,
    remedy: 'Allow a longer fall time or a higher clamp.',
  }),
  'supply-voltage': ({ used, limit, facts }) => ({
    message: `The driver of ${facts.line} counts on ${volts(used)}, but the supply has ${volts(limit)}.`,
    remedy: 'Raise the supply voltage or lower what the driver is said to give.',
  }),
  dissipation: ({ used, limit, facts }) => ({
    message: `Used in every cycle, the driver of ${facts.line} with its resistors and clamp turns ${formatQuantity(used, 'W')} into heat, more than the ${formatQuantity(limit, 'W')} that it bears.`,
    remedy: 'Lower the supply voltage or the duty, or take larger parts.',
  }),
  tracking: ({ used, limit, facts }) => ({
    message: `At ${formatQuantity(facts.celsius, '°C')} a drive that follows the temperature may be ${percent(used)} off the cores, more than the ${percent(limit)} that its tolerance allows for.`,
    remedy: 'Put the sensor closer to the cores, trim its coefficient, or allow the drives more tolerance.',
  }),
};

/** What drive and supply leave, against edge and top. */
function voltWords(
  { used, facts }: Extract<Constraint, { readonly code: 'line-volts' | 'inhibit-volts' }>,
  so: string,
): Words {
  const { line, inductance, onEdge, onTop, rise, available, short } = facts;
  const giver = short === 'driver' ? 'its driver gives' : 'the supply leaves';
  const where =
    onEdge >= onTop
      ? `on its edge of ${seconds(rise)} (${formatQuantity(inductance, 'H')} in series)`
      : 'while its current stands';
  const high = Math.max(onEdge, onTop) < available ? ` with the drives high` : '';
  return {
    message: `${capital(line)} needs ${volts(high === '' ? Math.max(onEdge, onTop) : used)} ${where}${high}, but ${giver} ${volts(available)}, ${so}`,
    remedy:
      onEdge >= onTop
        ? 'Slow the edge, shorten the line, or give the driver more voltage.'
        : 'Take thicker wire, shorten the line, or give the driver more voltage.',
  };
}
