import type { AssumedField } from '../../engine/estimates/assumed-fields.ts';
import { ASSUMPTION_HEADER, assumptionRows } from '../../engine/strobe/ledger-words.ts';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Design } from '../../engine/design/design.ts';
import type { BuildNumbers } from '../../engine/estimates/build-numbers.ts';
import type { RecoveryEstimate } from '../../engine/estimates/recovery.ts';
import type { DesignWarning } from '../../engine/warnings/warning.ts';
import { buildRows } from './build-rows.ts';
import { textTable } from './table.ts';
import { describeDesign } from './words.ts';

/** The warnings of a design, one paragraph each, what its builder plans with, and what was not given. */
export function checkText(
  design: Design,
  warnings: readonly DesignWarning[],
  build: BuildNumbers,
  recovery: RecoveryEstimate & { readonly shortestCycle: number },
  assumed: readonly AssumedField[],
): string {
  const head = describeDesign(design);
  const rows = [
    ...buildRows(build),
    ['inhibit recovery, by estimate', formatQuantity(recovery.time, 's')],
    ['shortest cycle, by estimate', formatQuantity(recovery.shortestCycle, 's')],
  ];
  const plan = `\nTo build and to feed\n${textTable(rows)}${notGiven(assumed)}`;
  if (warnings.length === 0) return `${head}\nThe design is valid and nothing is to be warned of.\n${plan}`;
  const items = warnings.map(({ message, remedy, field }) => `! ${message} ${remedy} (${field})\n`);
  const count = warnings.length === 1 ? 'one warning' : `${warnings.length} warnings`;
  return `${head}\nThe design is valid, with ${count}.\n\n${items.join('\n')}${plan}`;
}

function notGiven(assumed: readonly AssumedField[]): string {
  if (assumed.length === 0) return '';
  const table = textTable([[...ASSUMPTION_HEADER], ...assumptionRows(assumed)]);
  return `\n${table}What each of these does to the margin is told by the window command.\n`;
}
