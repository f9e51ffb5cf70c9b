import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { BuildNumbers } from '../../engine/estimates/build-numbers.ts';

const SET_BY = {
  pulses: 'the pulses',
  tail: 'the tail of the inhibit',
  supply: 'the supply',
} as const;

const selectionText = ({ switches, diodes, transformers }: BuildNumbers['drivers']['direct']): string =>
  [
    String(switches),
    ...(diodes > 0 ? [`${diodes} diodes`] : []),
    ...(transformers > 0 ? [`${transformers} transformers`] : []),
  ].join(', ');

/** What a builder plans with, as rows of a table. */
export function buildRows(build: BuildNumbers): string[][] {
  const { drivers, supplyCurrent, peak, limits, needs } = build;
  return [
    ['cores in the stack', String(build.cores)],
    ['drivers with inhibit', String(drivers.withInhibit)],
    ['drivers without inhibit', String(drivers.withoutInhibit)],
    ['switches, lines driven directly', selectionText(drivers.direct)],
    ['switches, lines in a diode matrix', selectionText(drivers.diodeMatrix)],
    ['switches, lines behind transformers', selectionText(drivers.transformerMatrix)],
    ...needs.map((need) => [
      `${need.line === 'inhibit' ? 'inhibit' : `line ${need.line.toUpperCase()}`} needs, kicks back`,
      `${formatQuantity(need.needed, 'V')}, ${formatQuantity(need.kick, 'V')}`,
    ]),
    ...needs.map(({ line, power }) => [
      `heat of one ${line === 'inhibit' ? 'inhibit' : line.toUpperCase()} driver, used in every cycle`,
      `${formatQuantity(power.driver + power.resistor + power.clamp, 'W')} of ${formatQuantity(power.supply, 'W')} drawn`,
    ]),
    [
      `supply current at ${formatQuantity(build.rate, 'Hz')}, all bits ZERO`,
      formatQuantity(supplyCurrent.atRate, 'A'),
    ],
    [
      'peak of the supply current, reservoir for 1 %',
      `${formatQuantity(peak.current, 'A')}, ${formatQuantity(peak.reservoir, 'F', 2)}`,
    ],
    [
      'highest rate, by estimate',
      `${formatQuantity(build.highestRate, 'Hz')}, set by ${SET_BY[limits.setBy]}`,
    ],
    ['access, as three turnovers of the core', build.access > 0 ? formatQuantity(build.access, 's') : 'none'],
    ['supply current at the highest rate', formatQuantity(supplyCurrent.atHighestRate, 'A')],
  ];
}
