import { assumptions } from '../../engine/strobe/ledger.ts';
import { buildNumbers } from '../../engine/estimates/build-numbers.ts';
import { shortestCycle } from '../../engine/estimates/cycle-limits.ts';
import { estimateRecovery } from '../../engine/estimates/recovery.ts';
import { toJsonDocument } from '../../engine/export/serialise.ts';
import { designWarnings } from '../../engine/warnings/design-warnings.ts';
import { checkText } from '../print/check-text.ts';
import { csvLine } from '../print/csv-line.ts';
import { writeOutput } from './write-output.ts';
import type { OutputOptions } from './simulate.ts';
import { readDesign } from './simulate.ts';
import type { Terminal } from './terminal.ts';

/** `check`: is it a design, and what would a builder be warned of? Warnings do not change the exit status. */
export async function checkCommand(
  path: string,
  options: OutputOptions,
  terminal: Terminal,
): Promise<number> {
  const design = await readDesign(path, terminal);
  const warnings = designWarnings(design);
  const build = buildNumbers(design);
  const recovery = { ...estimateRecovery(design), shortestCycle: shortestCycle(design) };
  const assumed = assumptions(design);
  const header = ['code', 'field', 'message', 'value', 'limit', 'remedy'] as const;
  const write = {
    text: () => checkText(design, warnings, build, recovery, assumed),
    json: () =>
      toJsonDocument({ name: design.name, valid: true, warnings, build, recovery, assumptions: assumed }),
    csv: () => [header, ...warnings.map((w) => header.map((key) => String(w[key])))].map(csvLine).join(''),
  }[options.format];
  await writeOutput(write(), options.output, terminal);
  return 0;
}
