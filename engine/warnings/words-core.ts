import { formatQuantity } from '../base/format-quantity.ts';
import type { Constraint } from '../estimates/constraints/constraint.ts';
import type { WordsFor } from './words-for.ts';

const amps = (value: number): string => formatQuantity(value, 'A');
const percent = (share: number): string => `${formatQuantity(100 * share, '1', 2)} %`;
const celsius = (value: number): string => formatQuantity(value, '°C');

type Knee = Extract<Constraint, { readonly facts: { readonly nominalKnee: number } }>;

/** At the end that is worst, and as designed. */
function knee({ used, limit, facts }: Knee, sees: string, factor = ''): string {
  const { temperature, nominal, nominalKnee } = facts;
  const designed =
    nominal > nominalKnee
      ? `${amps(nominal)} against ${amps(nominalKnee)} even as designed`
      : `as designed ${amps(nominal)} against ${amps(nominalKnee)}`;
  return `At ${celsius(temperature)} with the drives high, ${sees} ${factor}${amps(used)}, over the knee of the core at ${amps(limit)} (a tenth of its flux lost by long half-selecting; ${designed}).`;
}

export const coreWords: WordsFor<
  | 'half-select-over-knee'
  | 'inhibited-core-over-knee'
  | 'inhibit-over-knee'
  | 'no-switching'
  | 'read-incomplete'
  | 'write-incomplete'
  | 'softest-core'
  | 'core-untested'
  | 'core-heat'
  | 'hole'
> = {
  'half-select-over-knee': (c) => ({
    message: knee(c, 'a half-selected core sees'),
    remedy: 'Lower the drive, let it follow the temperature, or take a core with a higher coercive drive.',
  }),
  'inhibited-core-over-knee': (c) => {
    const { share, half, nominal } = c.facts;
    const lost = formatQuantity(100 * (1 - share), '1', 2);
    const shunted =
      share < 0.98 ? ` The terminations take ${lost} % of the inhibit current past the cores.` : '';
    const times = `${formatQuantity(nominal / half, '1')} times half-select as designed, `;
    return {
      message: `${knee(c, 'the selected core of an inhibited write sees', times)}${shunted}`,
      remedy:
        share < 0.98
          ? 'Raise the terminations or take thicker wire, so that the inhibit current stays in the wire.'
          : 'Raise the inhibit current toward the half-select current, lower the write drive, or let the drives follow the temperature.',
    };
  },
  'inhibit-over-knee': (c) => ({
    message: knee(c, 'every other core of an inhibited mat sees'),
    remedy: 'Lower the inhibit current.',
  }),
  'no-switching': ({ used, limit, facts }) => ({
    message: `Full ${facts.what} drive at its low end is ${amps(limit)}, which does not switch a core whose threshold is ${amps(used)} there.`,
    remedy: 'Raise both drives, or take a softer core.',
  }),
  'read-incomplete': (c) => incomplete('read', c),
  'write-incomplete': (c) => incomplete('write', c),
  'softest-core': ({ used, limit, facts }) => {
    const what =
      facts.bit === 1 ? 'a ONE through a thousand half-reads' : 'a ZERO through a thousand inhibited writes';
    const keeps = limit > 0 ? `keeps only ${percent(limit)} of its flux` : 'does not keep its flux';
    return {
      message: `The softest core that a stack is likely to hold, ${formatQuantity(facts.sigmas, '1', 3)} standard deviations below the middle, must hold ${what} at the worst end of the temperature with the drives high; it ${keeps}, where ${percent(used)} counts as held.`,
      remedy:
        facts.bit === 1
          ? 'Lower the drive, let it follow the temperature, or sort the cores more closely.'
          : 'Bring the inhibit current toward the half-select current, lower the drive, let it follow the temperature, or sort the cores more closely.',
    };
  },
  'core-untested': ({ used, limit, facts }) => ({
    message: `A selected core sees ${amps(facts.drive)}, and its data were read at ${amps(facts.tested)}: at that distance the peak of a real core strays from the predicted one by ${percent(used)} (one standard deviation), more than ${percent(limit)}.`,
    remedy: 'Measure a core at the drive that it will see, or drive it as its data were read.',
  }),
  'core-heat': ({ used, limit, facts }) => ({
    message: `One address in every cycle puts ${formatQuantity(facts.power, 'W', 2)} into its core and warms it by up to ${formatQuantity(used, 'K')}, more than ${formatQuantity(limit, 'K')}, if still air alone cools it; its wires help, by how much is not known.`,
    remedy:
      'Lengthen the period, keep programs from staying at one address, or measure the core while it is hammered.',
  }),
  hole: ({ used, limit, facts }) => ({
    message: `${facts.wires} wires need ${formatQuantity(used, 'm')}, but the hole is ${formatQuantity(limit, 'm')}.`,
    remedy: 'Take thinner wire or a larger core.',
  }),
};

function incomplete(
  what: 'read' | 'write',
  { used, limit, facts }: Extract<Constraint, { readonly code: 'read-incomplete' | 'write-incomplete' }>,
): { readonly message: string; readonly remedy: string } {
  return {
    message: `The ${what} pulse leaves ${formatQuantity(limit, 's')} at full drive, but at ${celsius(facts.temperature)} with the drives low the core needs ${formatQuantity(used, 's')} to switch.`,
    remedy: 'Widen the pulse, raise the drive, make the edges faster, or reduce the stagger.',
  };
}
