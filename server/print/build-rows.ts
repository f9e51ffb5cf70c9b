import type { BuildNumbers } from '../../engine/index.ts';
import { formatQuantity } from '../../engine/index.ts';

/** What a builder plans with, as rows of a table. */
export function buildRows(build: BuildNumbers): string[][] {
  const { drivers, supplyCurrent } = build;
  return [
    ['cores in the stack', String(build.cores)],
    ['drivers with inhibit', String(drivers.withInhibit)],
    ['drivers without inhibit', String(drivers.withoutInhibit)],
    [
      `supply current at ${formatQuantity(build.rate, 'Hz')}, all bits ZERO`,
      formatQuantity(supplyCurrent.atRate, 'A'),
    ],
    ['highest rate, by estimate', formatQuantity(build.highestRate, 'Hz')],
    ['access, as three turnovers of the core', build.access > 0 ? formatQuantity(build.access, 's') : 'none'],
    ['supply current at the highest rate', formatQuantity(supplyCurrent.atHighestRate, 'A')],
  ];
}
